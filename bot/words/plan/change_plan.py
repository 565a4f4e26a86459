"""What the class reads when dates move or the plan changes; surprises stay secret."""

from collections.abc import Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.plan.change_plan import Change
from bot.rules.plan.public_plan import PublicPlan
from bot.words.calendar.brief import OPEN, fingerprints, plan_file
from bot.words.core.pages import fitting
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from storage.records.message import MESSAGE_LENGTH, Message
from storage.records.plan import Plan

_SENTENCES = {
    "name": "the name is now {new}",
    "zone": "the time zone is now {new}",
    "sections": "the sections are now: {new}",
    "places": "the number of places is {new} instead of {old}",
    "place_groups": "which sections compete for which places",
    "qualify": "the points that a squad needs at least to win a place",
    "brief": "the text of the brief",
    "tie_breaks": "the order that breaks ties",
    "announce": "how the result is announced",
    "protest_days": "the days for questions about the result are {new} instead of {old}",
    "retention_days": "names are erased after {new} days instead of {old}",
    "squads": "squads have {new} members instead of {old}",
    "expected": "how many squads are expected",
    "board": "under what names students stand on the board",
    "dates": "the dates",
    "reminders": "the hours of reminders",
    "events": "the events",
    "practice": "the turns at the practice table",
    "event_day": "the plan of the event day",
    "weight": "{name} counts {new} instead of {old}",
    "rules": "the rules of {name}",
}
_SECRET = {"weight": "the surprise counts {new} instead of {old}", "rules": "the rules of the surprise"}


MORE_CHANGES = "- and {more} more: the attached plan has them all"


def sentence(change: Change) -> str:
    """One change, in plain words that give no secret away; people's own words stand in it as they are."""
    lines = _SENTENCES if change.name or change.kind not in _SECRET else _SECRET
    return lines[change.kind].format(name=change.name, old=change.old, new=change.new)


@posted(Sign.CHANGE)
def moved(plan: Plan, before: Schedule, after: Schedule) -> Message:
    """Before the brief: other dates, and what they were."""
    pairs = (
        ("Sign-up closes", before.signup_closes, after.signup_closes),
        ("The brief comes", before.brief, after.brief),
        ("The deadline is", before.deadline, after.deadline),
    )
    lines = [f"- {what} {full(new)} (before: {full(old)})." for what, old, new in pairs if old != new]
    return Message(text=f"**{escape(plan.name)}: new dates.**\n" + "\n".join(lines))


@posted(Sign.CHANGE)
def changed(
    plan: Plan, schedule: Schedule, sentences: Sequence[str], dates: bool, reason: str, public: PublicPlan
) -> Message:
    """After the brief: what has changed and why, and the plan as it is now, as a file with its fingerprint."""
    head = f"**{escape(plan.name)}: the plan has changed.**"
    tail = [f"The deadline is now {full(schedule.deadline)}."] if dates else []
    tail += [
        f"Reason: {escape(reason)}",
        "The brief shows the plan as it is now. Please read what is new.",
        f"-# The plan as it is now is attached. {fingerprints(public)}",
    ]
    room = MESSAGE_LENGTH - len(MORE_CHANGES) - sum(len(line) + 1 for line in (head, *tail))
    found = fitting([f"- {escape(one)}" for one in sentences], room, MORE_CHANGES)
    return Message(text="\n".join((head, *found, *tail)), rows=((OPEN,),), files=(plan_file(public),))
