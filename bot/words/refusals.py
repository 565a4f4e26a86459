"""What people read when the rules say no: why, and what to do next.

Each subject keeps its own lines under `REFUSALS`; they are gathered here, and each reason has exactly one line.
"""

from bot.rules.refusal import Refusal
from bot.words import (
    announce,
    attempts,
    brief,
    calendar,
    clarifications,
    explain,
    feedback,
    hand_in,
    judges,
    judging,
    names,
    offers,
    office,
    packets,
    panels,
    paper_entry,
    people,
    planning,
    practice,
    practice_draw,
    practice_office,
    privacy,
    questions,
    reopening,
    results,
    setup,
    signup,
    steps,
    surprise,
    table,
    ties,
    trials,
    typed_marks,
    what_if,
)
from storage.records.message import Message

COMMON = {
    "no_tryout": "No try-out is running here yet. Ask your coach.",
    "only_coach": "Only a coach can do that. If you are one, ask whoever manages this server to add you.",
    "only_manager": "Only someone who manages this server can do that.",
    "only_scorekeeper": "Only a coach or a scorekeeper can do that. Ask your coach to add you.",
    "only_judge": "Only a judge of this try-out can do that. Ask your coach to add you.",
    "someone_was_quicker": "Someone was quicker and that has just changed. Please look again and retry.",
    "old_message": "This message is out of date. Please use the newest one in this room.",
}

SUBJECTS: tuple[dict[str, str], ...] = (
    COMMON,
    calendar.REFUSALS,
    names.REFUSALS,
    signup.REFUSALS,
    table.REFUSALS,
    attempts.REFUSALS,
    announce.REFUSALS,
    explain.REFUSALS,
    results.REFUSALS,
    what_if.REFUSALS,
    offers.REFUSALS,
    feedback.REFUSALS,
    hand_in.REFUSALS,
    judges.REFUSALS,
    judging.REFUSALS,
    panels.REFUSALS,
    ties.REFUSALS,
    reopening.REFUSALS,
    typed_marks.REFUSALS,
    trials.REFUSALS,
    paper_entry.REFUSALS,
    office.REFUSALS,
    packets.REFUSALS,
    planning.REFUSALS,
    practice.REFUSALS,
    practice_draw.REFUSALS,
    practice_office.REFUSALS,
    people.REFUSALS,
    surprise.REFUSALS,
    privacy.REFUSALS,
    setup.REFUSALS,
    steps.REFUSALS,
    brief.REFUSALS,
    questions.REFUSALS,
    clarifications.REFUSALS,
)
LINES = {reason: line for subject in SUBJECTS for reason, line in subject.items()}


def message(refusal: Refusal) -> Message:
    """The private answer to a refusal."""
    return Message(text=LINES[refusal.reason].format(**refusal.fields))
