"""What people read when the rules say no: why, and what to do next.

Each subject keeps its own lines under `REFUSALS`; they are gathered here, and each reason has exactly one line.
"""

from bot.rules.core.refusal import Refusal
from bot.words.analysis import what_if
from bot.words.calendar import brief, calendar_view, surprise
from bot.words.core.action_keys import ActionKey
from bot.words.core.keys import key
from bot.words.core.plain_text import cut
from bot.words.hand_in import member_parts
from bot.words.judging import (
    calibration,
    conflicts_of_interest,
    judges_admin,
    panels_admin,
    paper_entry,
    reopen_sheet,
    typed_marks,
    worklist,
)
from bot.words.office import office, setup, tryout_states
from bot.words.plan import begin_tryout
from bot.words.practice import booking, first_round_draw, practice_admin
from bot.words.privacy import erase_person
from bot.words.questions import answer, ask
from bot.words.results import announce, feedback, offers, preview
from bot.words.scorekeeping import attempts, score_table
from bot.words.scoring import explain, packet_text
from bot.words.squads import name_rules, sign_up, students_admin
from storage.records.message import Button, Message

COMMON = {
    "no_tryout": "No try-out is running here yet. Ask your coach.",
    "only_coach": "Only a coach can do that. If you are one, ask whoever manages this server to add you.",
    "only_manager": "Only someone who manages this server can do that.",
    "only_typist": "Only a coach, or somebody the coach has added for it, types in paper sheets.",
    "only_scorekeeper": "Only a coach or a scorekeeper can do that. Ask your coach to add you.",
    "only_judge": "Only a judge of this try-out can do that. Ask your coach to add you.",
    "someone_was_quicker": "Someone was quicker and that has just changed. Please look again and retry.",
    "old_message": "This message is out of date. Please use the newest one.",
}

SUBJECTS: tuple[dict[str, str], ...] = (
    COMMON,
    calendar_view.REFUSALS,
    name_rules.REFUSALS,
    sign_up.REFUSALS,
    score_table.REFUSALS,
    attempts.REFUSALS,
    announce.REFUSALS,
    explain.REFUSALS,
    preview.REFUSALS,
    what_if.REFUSALS,
    offers.REFUSALS,
    feedback.REFUSALS,
    member_parts.REFUSALS,
    judges_admin.REFUSALS,
    worklist.REFUSALS,
    panels_admin.REFUSALS,
    conflicts_of_interest.REFUSALS,
    reopen_sheet.REFUSALS,
    typed_marks.REFUSALS,
    calibration.REFUSALS,
    paper_entry.REFUSALS,
    office.REFUSALS,
    packet_text.REFUSALS,
    begin_tryout.REFUSALS,
    booking.REFUSALS,
    first_round_draw.REFUSALS,
    practice_admin.REFUSALS,
    students_admin.REFUSALS,
    surprise.REFUSALS,
    erase_person.REFUSALS,
    setup.REFUSALS,
    tryout_states.REFUSALS,
    brief.REFUSALS,
    ask.REFUSALS,
    answer.REFUSALS,
)
LINES = {reason: line for subject in SUBJECTS for reason, line in subject.items()}


LONGEST_QUOTE = 1000
"""Characters of what someone typed that a refusal shows again."""

AFRESH = {
    "anyone": Button(key=key(ActionKey.SQUAD_MINE), label="My squad"),
    "judge": worklist.MY_SHEETS,
    "scorekeeper": Button(key=key(ActionKey.TABLE_PANEL), label="Table"),
    "typist": Button(key=key(ActionKey.PAPER_ENTER), label="Paper sheets"),
    "coach": Button(key=key(ActionKey.OFFICE), label="Office"),
    "manager": Button(key=key(ActionKey.OFFICE), label="Office"),
}
"""Where someone begins anew whose message is out of date, by the role that the message asked for."""


def message(refusal: Refusal) -> Message:
    """What a refusal says."""
    fields = refusal.fields.items()
    shown = {name: cut(value, LONGEST_QUOTE) if isinstance(value, str) else value for name, value in fields}
    return Message(text=LINES[refusal.reason].format(**shown))


def reply(refusal: Refusal, role: str) -> Message:
    """The private answer to a refusal; out of an old message a button leads to where that role begins."""
    if refusal.reason != "old_message":
        return message(refusal)
    return Message(text=message(refusal).text, rows=((AFRESH[role],),))
