"""Making a plan by answering questions: what is asked, and the commented file that comes of it."""

from collections.abc import Callable

import tomli_w

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan import new_plan_questions as rules
from bot.words.core import refusals
from bot.words.core.times import time_text
from bot.words.plan.new_event_template import event_toml
from storage.records import plan_limits as limits

FILE_NAME = "my-plan.toml"
"""What the plan file is called where no name is given."""
Question = tuple[str, Callable[[rules.Answers], str]]
"""What is asked, and what stands if nothing is typed."""

REFUSALS: dict[AnyReason, str] = {
    Reason.TYPED_ZONE: "**{typed}** is not in the IANA list of time zones. Type it like Europe/London.",
    Reason.TYPED_SECTIONS: f"Type {limits.SECTIONS.least} to {limits.SECTIONS.most} different names of at most "
    f"{limits.SECTION_LETTERS} letters, "
    "separated by commas, not **{typed}**.",
}
QUESTIONS: dict[str, Question] = {
    "name": ("What is the try-out called?", lambda a: a.name),
    "zone": ("Which time zone is the school in?", lambda a: a.zone),
    "sections": ("Which sections (class groups), separated by commas?", lambda a: ", ".join(a.sections)),
    "places": ("How many squads win a place?", lambda a: str(a.places)),
    "sizes": ("How many members does a squad have, from - to?", lambda a: f"{a.smallest}-{a.largest}"),
    "day": ("On which day does everyone get the brief (year-month-day)?", lambda a: a.day.isoformat()),
    "clock": ("At what time (24 hours)?", lambda a: time_text(a.clock)),
    "days": (
        "How many days until the deadline, in school days or calendar days?",
        lambda a: f"{a.days} {a.counting}",
    ),
    "events": (
        "Which events? Name = how it is measured: count, time, judges, checklist, or number UNIT (add 'lower' where\n"
        "less is better), separated by commas",
        lambda a: ", ".join(one.typed for one in a.events),
    ),
    "turns": (
        "At which times is the practice table free, separated by commas, or none?",
        lambda a: ", ".join(map(time_text, a.turns)) or "none",
    ),
}
"""In the order in which they are asked."""


def ask_all(found: rules.Answers, ask: Callable[[str], str], say: Callable[[str], None]) -> None:
    """Ask every question until it has an answer; nothing typed takes what is proposed."""
    for name, (text, proposed) in QUESTIONS.items():
        while True:
            standing = proposed(found)
            typed = ask(f"{text} [{standing}] ").strip() or standing
            try:
                rules.TAKES[name](found, typed)
                break
            except Refusal as refusal:
                say(refusals.line(refusal))


def plan_toml(found: rules.Answers) -> str:
    """A commented plan of the answers, which `read_plan` takes as it is."""
    events = "\n".join(event_toml(one) for one in found.events)
    keys = ", ".join(f'"{one.key}"' for one in found.events)
    practice = ""
    if found.turns:
        times = ", ".join(f"{one:%H:%M:%S}" for one in found.turns)
        head = "[practice]                     # turns at the one shared table"
        practice = f"{head}\ntimes = [{times}]\nminutes = {found.turn_minutes}\n\n"
    lines = "\n".join(f"{number}. {one.name}" for number, one in enumerate(found.events, start=1))
    return f"""\
# A plan for a try-out. Change what you like, then check it:  tenbell plan check THIS-FILE
# Every key is explained by:  tenbell plan reference

{_value("name", found.name)}
{_value("zone", found.zone)}
{_value("sections", list(found.sections))}
places = {found.places}                     # how many squads win a place

# What everyone reads when it begins. Say in your own words what to do and how to win.
brief = '''
Welcome! Every squad gets a real taste of competing. This is what counts:
{lines.replace("'", "’")}
Everyone in the squad takes part. Ask about the rules; everyone reads the answer.
'''

tie_breaks = [{keys}]  # compared in this order when totals are equal; then there is a run-off
announce = "{found.announce}"            # or "podium" (first three) or "table" (everyone)

[squads]
smallest = {found.smallest}
largest = {found.largest}

[calendar]
brief = {found.day.isoformat()}T{found.clock:%H:%M:%S}    # local date and time
days = {found.days}                      # until the deadline
counting = "{found.counting}"            # "school" leaves out weekends and closed days; "calendar" counts every day
closed = []                    # days off, such as [2026-11-03]

{practice}{events}"""


def _value(key: str, value: object) -> str:
    return tomli_w.dumps({key: value}).strip().replace("\n    ", " ").replace(",\n]", " ]")


def file_exists(path: str) -> str:
    """A new file would take the place of one that is there."""
    return f"{path} is there already. Name another file, such as: tenbell plan new second-plan.toml"


def cannot_write(path: str) -> str:
    """A new file cannot be made there."""
    return f"I cannot write {path}. Name a file in a folder of your own."


def no_plan_made() -> str:
    """The questions were not answered to their end."""
    return "No plan was made."


def plan_made(path: str) -> str:
    """A new plan is there, and what to do with it."""
    return (
        f"{path} is a plan that works as it stands. Open it, put in your own texts, then run:\n"
        f"  tenbell plan check {path}\n`tenbell plan reference` explains every key."
    )
