"""Changing the plan of a try-out that runs: what has changed, and what may still change."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.second_coach import COOLING, may_break
from bot.rules.core.typed_reason import SHORTEST_REASON
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Checklist, Count, Measure, Number, Rubric
from storage.records.tryout import AFTER_CLOSE, BEFORE_BRIEF, State

_PLAIN = ("name", "zone", "sections", "places", "brief", "tie_breaks", "announce", "protest_days", "retention_days")
_PLACES = frozenset(("places", "place_groups"))


@dataclass(frozen=True)
class Change:
    """One thing that differs between two plans; `kind` names its sentence in the words."""

    kind: str
    name: str = ""
    """The event it concerns; empty where that is a secret still."""
    old: str = ""
    new: str = ""


@dataclass(frozen=True)
class Present:
    """What a changed plan must still fit."""

    state: State
    now: datetime
    sections: frozenset[str] = frozenset()
    """Sections of students and squads."""
    largest: int = 0
    """Members of the largest squad."""
    tied: bool = False
    """Squads are equal at the last place, judging is closed, and nothing can be run off: then only places help."""


def changes(old: Plan, new: Plan) -> tuple[Change, ...]:
    """What differs; nothing about a surprise but that there is a change. In which order it is read, its words say."""
    return (
        *(Change(field, "", _plain(old, field), _plain(new, field)) for field in _PLAIN if _differs(old, new, field)),
        *(Change(field) for field in ("place_groups", "qualify") if _differs(old, new, field)),
        *_squads(old, new),
        *_dates(old, new),
        *_events(old, new),
        *((Change("practice"),) if old.practice != new.practice else ()),
        *((Change("event_day"),) if old.event_day != new.event_day else ()),
    )


def scoring(plan: Plan) -> tuple[object, ...]:
    """Everything that says how recorded scores are counted: weights, scales, rubrics, panel rules, places, ties."""
    events = tuple((event.key, event.weight, event.measures) for event in plan.events)
    return (*events, plan.places, plan.place_groups, plan.qualify, plan.tie_breaks)


def check_differs(found: tuple[Change, ...]) -> None:
    """A plan that says the same is no change. Raises Refusal `nothing_changed`."""
    if not found:
        raise Refusal(Reason.NOTHING_CHANGED)


def counts_otherwise(old: Plan, new: Plan) -> bool:
    """Whether recorded scores would be counted otherwise: then two coaches have to agree, once there are scores."""
    return scoring(old) != scoring(new)


def check_agreed(first_asked: datetime, by_another: bool, now: datetime) -> None:
    """How scores are counted changes by two coaches, or by one who has waited. Raises Refusal `scoring_fixed` (at)."""
    if not may_break(first_asked, by_another, now):
        raise Refusal(Reason.SCORING_FIXED, at=int((first_asked + COOLING).timestamp()))


def takes_effect_at_once(state: State, found: tuple[Change, ...]) -> bool:
    """Whether a change is made unasked: nobody has seen the plan, or only dates have been told and none moves."""
    return state == "drafting" or (state == "signup" and not moves_dates(found))


def check_reason(brief_at: datetime | None, reason: str) -> None:
    """Once the brief is out, everyone reads why the plan changes. Raises Refusal `reason_needed`."""
    if brief_at is not None and len(reason) < SHORTEST_REASON:
        raise Refusal(Reason.REASON_NEEDED)


def told_dates(dates: Schedule) -> tuple[datetime, ...]:
    """The dates that the class reads while sign-up is open: if one moves, it is told."""
    return (dates.signup_closes, dates.brief, dates.deadline)


def moves_dates(found: tuple[Change, ...]) -> bool:
    """Whether students have to be told of other dates."""
    return any(change.kind in ("dates", "zone") for change in found)


def check_change(old: Plan, new: Plan, before: Schedule, after: Schedule, present: Present) -> None:
    """Whether a plan may take the place of another one.

    Raises:
        Refusal: `plan_fixed`, `section_in_use` (section), `squad_too_large` (members, largest),
            `new_brief_past` (brief), `new_signup_past` (closes), `structure_fixed`, `brief_date_fixed`,
            `deadline_fixed`, `new_deadline_past` (deadline).
    """
    if present.state in AFTER_CLOSE:
        if present.tied and {change.kind for change in changes(old, new)} <= _PLACES:
            return
        raise Refusal(Reason.PLAN_FIXED)
    for section in sorted(present.sections - set(new.sections)):
        raise Refusal(Reason.SECTION_IN_USE, section=section)
    if present.largest > new.squads.largest >= 1 and new.squads.largest != old.squads.largest:
        raise Refusal(Reason.SQUAD_TOO_LARGE, members=present.largest, largest=new.squads.largest)
    if present.state in BEFORE_BRIEF:
        _check_ahead(before, after, present)
    else:
        _check_frozen(old, new, before, after, present)


def _check_ahead(before: Schedule, after: Schedule, present: Present) -> None:
    if after.brief <= present.now and (after.brief != before.brief or present.state == "drafting"):
        raise Refusal(Reason.NEW_BRIEF_PAST, brief=int(after.brief.timestamp()))
    if after.signup_closes <= present.now and after.signup_closes != before.signup_closes:
        raise Refusal(Reason.NEW_SIGNUP_PAST, closes=int(after.signup_closes.timestamp()))


def _check_frozen(old: Plan, new: Plan, before: Schedule, after: Schedule, present: Present) -> None:
    """After the brief: what has been measured must keep its place, and what is over stays over."""
    if _structure(old) != _structure(new):
        raise Refusal(Reason.STRUCTURE_FIXED)
    if new.calendar.brief != old.calendar.brief or new.zone != old.zone:
        raise Refusal(Reason.BRIEF_DATE_FIXED)
    if after.deadline != before.deadline:
        if present.state != "window":
            raise Refusal(Reason.DEADLINE_FIXED)
        if after.deadline <= present.now:
            raise Refusal(Reason.NEW_DEADLINE_PAST, deadline=int(after.deadline.timestamp()))


def _structure(plan: Plan) -> list[object]:
    """Events, measures, criteria, items and lines by key, with levels and units: what marks and attempts refer to."""

    def measured(event: Event) -> list[object]:
        return [(measure.key, measure.kind, _criteria(measure)) for measure in event.measures]

    return [(event.key, event.surprise, event.hand_in, measured(event)) for event in plan.events]


def _criteria(measure: Measure) -> list[tuple[str, int]]:
    match measure:
        case Rubric():
            return [(one.key, len(one.levels)) for one in measure.criteria]
        case Count():
            return [(item.key, 1) for item in measure.items]
        case Checklist():
            return [(line.key, 1) for line in measure.lines]
        case Number():
            return [(measure.unit, measure.decimals)]
    return []


def _differs(old: Plan, new: Plan, field: str) -> bool:
    return bool(getattr(old, field) != getattr(new, field))


def _plain(plan: Plan, field: str) -> str:
    value = getattr(plan, field)
    return ", ".join(value) if isinstance(value, tuple) else str(value)


def _squads(old: Plan, new: Plan) -> Iterator[Change]:
    before, after = (f"{one.squads.smallest} to {one.squads.largest}" for one in (old, new))
    if before != after:
        yield Change("squads", "", before, after)
    if old.squads.expected != new.squads.expected:
        yield Change("expected")
    if old.squads.board != new.squads.board:
        yield Change("board")


def _dates(old: Plan, new: Plan) -> Iterator[Change]:
    reminders = ("remind_at", "remind_at_on", "last_day_hours", "quiet_from", "quiet_until")
    one, other = old.calendar.model_dump(), new.calendar.model_dump()
    if any(one[name] != other[name] for name in one if name not in reminders):
        yield Change("dates")
    if any(one[name] != other[name] for name in reminders):
        yield Change("reminders")


def _events(old: Plan, new: Plan) -> Iterator[Change]:
    before, after = ({event.key: event for event in plan.events} for plan in (old, new))
    if [event.key for event in old.events] != [event.key for event in new.events]:
        yield Change("events")
    for key in (key for key in before if key in after):
        yield from _event(before[key], after[key])


def _event(old: Event, new: Event) -> Iterator[Change]:
    name = "" if old.surprise or new.surprise else new.name
    if old.weight != new.weight:
        yield Change("weight", name, f"{old.weight.normalize():f}", f"{new.weight.normalize():f}")
    if old.model_copy(update={"weight": new.weight}) != new:
        yield Change("rules", name)


def asks_for_reason(state: State | None) -> bool:
    """Whether the forms that change a plan ask why: once the brief is out."""
    return state not in (None, "drafting", "signup")


def class_is_told(brief_at: datetime | None, before: Schedule, after: Schedule) -> bool:
    """Whether the class reads of a change: of each once the rules are fixed, before that where a told date moves."""
    return brief_at is not None or told_dates(before) != told_dates(after)


def needs_agreement(old: Plan, new: Plan, has_scores: bool) -> bool:
    """Whether a second coach has to agree, or the first to wait: there are scores, and they would count otherwise."""
    return has_scores and counts_otherwise(old, new)
