"""What stands beside each slash command, beside what can be typed after it, and what is suggested meanwhile."""

from collections.abc import Mapping

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.join_and_link_codes import JOIN_CODE_LETTERS
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import PAGE
from bot.words.core.custom_ids import key
from bot.words.core.number_text import in_words
from bot.words.core.photos import TAKEN
from storage.records.message import Choice, Message, Select

REFUSALS = {
    Reason.NO_SQUAD: "I know no squad **{typed}**. Pick one from the list that appears while you type.",
}
COMMANDS = {
    "my-squad": "Your squad: what to do next, your turns, your room",
    "sign-up": "Join a squad or start one; type a join code",
    "brief": "Read the brief: what your squad must do, and by when",
    "hand-in": "Hand in your part, or change it",
    "book": "Book a turn at the practice table, or give one back",
    "ask": "Ask about the rules; everyone reads the answer, without your name",
    "answers": "Read all answers about the rules",
    "sheets": "Your score sheets, and the next one to mark",
    "table": "Record attempts: pick what is measured, then the squad",
    "score": "Record one attempt in one line; you read it back",
    "office": "Where the try-out stands, and the next step",
    "plan": "Read or change the plan, or use a plan file",
    "people": "Students, squads, coaches and helpers",
    "questions": "Answer questions about the rules",
    "judges": "Judges, panels, who owes what, open and close judging",
    "paper": "Print score sheets, or type in filled ones",
    "results": "Standings, announcement, the offered place, feedback",
    "why": "One squad's whole way to its total",
}

JOIN_CODE = {"code": f"The {in_words(JOIN_CODE_LETTERS)} letters the captain read out, if you have them"}
OWN_PART = {
    "why": "What is your part, and why? Without it, a form opens",
    "photo": f"A photo of it: {TAKEN}, no people on it",
    "piece": "If your squad hands in more than one piece: the name of the one you mean",
}
ONE_SQUAD = {"squad": "The squad's number or name"}
ONE_OF_US = {"find": "A few letters of a student's or a squad's name, to go there at once"}
ONE_ATTEMPT = {
    "squad": "The squad's number or name",
    "measure": "What is measured",
    "value": "14, or 14 -5 with points off; 1:32.4 2 with faults; dnf; 4 for members who took part",
}
PART_OF_OFFICE = {"part": "Go to one part at once"}
PLAN_FILE = {"file": "The plan as a TOML file", "reason": "Once the brief is out: why the plan changes"}

OFFICE_PARTS: Mapping[str, ActionKey] = {
    "the office itself": ActionKey.OFFICE,
    "plan": ActionKey.PLAN_PANEL,
    "dates": ActionKey.PLAN_DATES,
    "set-up": ActionKey.SETUP_PANEL,
    "people": ActionKey.PEOPLE_PANEL,
    "judges": ActionKey.JUDGES_PANEL,
    "table": ActionKey.TABLE_PANEL,
    "practice": ActionKey.PRACTICE_PANEL,
    "the surprise": ActionKey.SURPRISE_ASK,
    "results": ActionKey.RESULTS_PANEL,
    "questions about the rules": ActionKey.RULES_PANEL,
}
"""Where `/office` can lead at once, by what is offered."""


def suggestions(choices: tuple[Choice, ...]) -> Message:
    """What fits what has been typed of a command so far."""
    if not choices:
        return Message(text="Nothing fits what you typed.")
    return Message(
        text="Fitting:", rows=(Select(key=key(ActionKey.TABLE_MEASURE), prompt="Pick", choices=choices[:PAGE]),)
    )
