"""A plan is changed: what the coach is asked first, and what the class reads of it; surprises stay secret."""

from collections.abc import Iterable, Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.change_plan import Change, asks_for_reason
from bot.rules.plan.public_plan import PublicPlan
from bot.words.calendar.brief import OPEN
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import fitting
from bot.words.core.plain_text import escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.core.typed_reason import REASON
from bot.words.plan.public_plan import fingerprints, plan_file
from storage.records.message import MESSAGE_LENGTH, Button, Message, TextField
from storage.records.plan import Plan
from storage.records.tryout import State

REFUSALS: dict[AnyReason, str] = {
    Reason.NOTHING_CHANGED: "That is what the plan says already; nothing was changed.",
    Reason.NO_DRAFT: "There is no change waiting any more. Please make it again.",
    Reason.SCORING_FIXED: "There are scores already. How they are counted changes only if a second coach makes this "
    "change, too, or if you press the same button again after <t:{at}:t>. Nothing has changed so far.",
    Reason.PLAN_FIXED: "Judging is closed, so the plan cannot change any more.",
    Reason.SECTION_IN_USE: "Section **{section}** cannot go: students have signed up in it. Move or remove them first.",
    Reason.SQUAD_TOO_LARGE: "A squad has {members} members already, so {largest} cannot be the most.",
    Reason.NEW_DEADLINE_PAST: "The deadline would be in the past (<t:{deadline}:F>). Choose more days.",
    Reason.STRUCTURE_FIXED: "The brief is out: events, measures, criteria and their levels must stay as they are. "
    "Names, texts, weights and scales can still change, with a reason.",
    Reason.BRIEF_DATE_FIXED: "The brief is out, so its date and zone stay. You can change the number of days.",
    Reason.DEADLINE_FIXED: "It is past, so the deadline stays.",
}

_SENTENCES = {
    "name": "the name is now {new}",
    "zone": "the time zone is now {new}",
    "sections": "the sections are now: {new}",
    "places": "the number of places is {new} instead of {old}",
    "brief": "the text of the brief",
    "tie_breaks": "the order that breaks ties",
    "announce": "how the result is announced",
    "protest_days": "the days for questions about the result are {new} instead of {old}",
    "retention_days": "the days after which names are erased are {new} instead of {old}",
    "place_groups": "which sections compete for which places",
    "qualify": "the points that a squad needs at least to win a place",
    "squads": "the members of a squad are {new} instead of {old}",
    "expected": "how many squads are expected",
    "board": "under what names students stand on the board",
    "dates": "the dates",
    "reminders": "the hours of reminders",
    "events": "the events",
    "weight": "{name} counts {new} instead of {old}",
    "rules": "the rules of {name}",
    "practice": "the turns at the practice table",
    "event_day": "the plan of the event day",
}
"""In the order in which they are read; those of one event stay together, in the order of the events."""
_SECRET = {"weight": "the surprise counts {new} instead of {old}", "rules": "the rules of the surprise"}
MORE_CHANGES = "- and {more} more: the attached plan has them all"


def sentences(found: Iterable[Change]) -> list[str]:
    """All changes, one after the other."""
    places = {kind: place for place, kind in enumerate(_SENTENCES)} | {"rules": list(_SENTENCES).index("weight")}
    return [sentence(change) for change in sorted(found, key=lambda change: places[change.kind])]


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


def reason_fields(state: State | None) -> tuple[TextField, ...]:
    """The field for a reason, once the brief is out."""
    return (REASON,) if asks_for_reason(state) else ()


def sure_to_change(news: Message | None, stamp: str) -> Message:
    """Ask once before a change that everyone is told, or that tells nobody anything new."""
    reads = "No date that the class knows moves, so nothing is said to it."
    text = f"**Change the plan?** {reads if news is None else f'The class reads:{chr(10)}{quoted(news.text)}'}"
    yes = Button(key=key(ActionKey.PLAN_APPLY, stamp), label="Yes, change it", style="main")
    return whole_message(text, ((yes, Button(key=key(ActionKey.PLAN_DROP), label="No, leave it")),))


def changed_quietly() -> str:
    """The plan was changed and nobody had to be told."""
    return "The plan is changed."


def changed_and_told() -> str:
    """The plan was changed and the class was told."""
    return "The plan is changed, and the class has been told."


def left_alone() -> str:
    """A change was not made after all."""
    return "Nothing was changed."
