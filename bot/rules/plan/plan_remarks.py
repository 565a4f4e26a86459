"""What is worth knowing about a plan that is right: nothing here keeps it from being used."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule, schedule
from bot.rules.calendar.local_time import how_often, wall_clock
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.measure_direction import lower_is_better
from bot.rules.plan.measure_checks import TRIMMED_FROM
from bot.rules.plan.plan_problems import Path, PlanProblem
from bot.rules.practice.practice_table import slots
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Checklist, Count, Measure, Number, Rubric, Share, Time


def plan_remarks(plan: Plan, now: datetime | None = None) -> tuple[PlanProblem, ...]:
    """All remarks on a plan, in the order of its parts; with `now` also on what is past already."""
    found = schedule(plan)
    measures = [
        (("events", e, "measures", m), measure)
        for e, event in enumerate(plan.events)
        for m, measure in enumerate(event.measures)
    ]
    return (
        *_brief(plan),
        *_past(found, now),
        *_deadline(found),
        *_clock_changes(plan, found),
        *_quiet_reminders(plan, found),
        *_practice(plan, found),
        *_names(plan),
        *(remark for path, measure in measures for remark in _measure(path, measure)),
    )


def _brief(plan: Plan) -> Iterator[PlanProblem]:
    calendar, path = plan.calendar, ("calendar", "brief")
    if is_quiet(calendar.brief.time(), calendar):
        yield PlanProblem(path, "brief_quiet", calendar.brief)
    if calendar.counting == "school":
        school, day = SchoolDays(calendar), calendar.brief.date()
        if school.closed_because(day):
            yield PlanProblem(path, "brief_closed", calendar.brief, {"counts_from": school.first_from(day)})


def _past(found: Schedule, now: datetime | None) -> Iterator[PlanProblem]:
    """A plan of last year, most likely: it can be checked, and not be begun with."""
    for path, kind, at in ((("calendar", "days"), "deadline_past", found.deadline),
                           (("calendar", "brief"), "brief_past", found.brief)):  # fmt: skip
        if now is not None and at <= now:
            yield PlanProblem(path, kind, None, {"at": at.astimezone(found.zone)})
            return


def _practice(plan: Plan, found: Schedule) -> Iterator[PlanProblem]:
    """Turns that do not go round."""
    practice, expected = plan.practice, plan.squads.expected
    if practice is None:
        return
    turns = len(slots(plan, found))
    each = practice.turns or 1
    if turns == 0:
        yield PlanProblem(("practice", "times"), "practice_none")
    elif expected is not None and turns < expected * each:
        fields = {"turns": turns, "expected": expected, "each": each}
        yield PlanProblem(("practice", "times"), "practice_short", None, fields)


def _deadline(found: Schedule) -> Iterator[PlanProblem]:
    if found.moved_from:
        fields = {"closed_day": found.moved_from, "deadline": found.deadline.astimezone(found.zone)}
        yield PlanProblem(("calendar", "days"), "deadline_moved", None, fields)


def _clock_changes(plan: Plan, found: Schedule) -> Iterator[PlanProblem]:
    calendar, zone = plan.calendar, ZoneInfo(plan.zone)
    moments: list[tuple[Path, datetime | None, datetime]] = [
        (("calendar", "brief"), calendar.brief, found.brief),
        (("calendar", "days"), datetime.combine(found.days[-1], calendar.brief.time()), found.deadline),
        (("calendar", "signup_closes"), calendar.signup_closes, found.signup_closes),
        (("calendar", "judging_closes"), calendar.judging_closes, found.judging_closes),
    ]
    for path, local, used in moments:
        if local and how_often(local, zone) != "usual":
            kind = f"clock_{how_often(local, zone)}"
            yield PlanProblem(path, kind, local, {"used": used.astimezone(zone), "instant": used})


def _quiet_reminders(plan: Plan, found: Schedule) -> Iterator[PlanProblem]:
    calendar, until = plan.calendar, {"until": plan.calendar.quiet_until}
    if is_quiet(calendar.remind_at, calendar):
        yield PlanProblem(("calendar", "remind_at"), "reminder_moved", calendar.remind_at, until)
    for number, moment in calendar.remind_at_on.items():
        if is_quiet(moment, calendar):
            kept = any(reminder.kind == "daily" and reminder.number == number for reminder in found.reminders)
            kind = "reminder_moved" if kept else "reminder_dropped"
            yield PlanProblem(("calendar", "remind_at_on", str(number)), kind, moment, until)
    for place, hours in enumerate(calendar.last_day_hours):
        point = wall_clock(found.deadline - timedelta(hours=hours), found.zone).time()
        if is_quiet(point, calendar):
            kept = any(reminder.kind == "last-day" and reminder.number == hours for reminder in found.reminders)
            kind = "last_hours_moved" if kept else "last_hours_dropped"
            yield PlanProblem(("calendar", "last_day_hours", place), kind, hours, {"at": point, **until})


def _measure(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    yield from _unused(path, measure)
    yield from _beyond(path, measure)
    if measure.scale == "standard":
        yield PlanProblem((*path, "scale"), "standard_reorders", measure.scale)
    if isinstance(measure, Rubric) and measure.judges_per_squad is not None and measure.panel != "adjusted":
        yield PlanProblem((*path, "panel"), "panel_partial", measure.panel, {"judges": measure.judges_per_squad})
    if isinstance(measure, Rubric) and measure.panel == "trimmed" and measure.judges_per_squad is None:
        yield PlanProblem((*path, "panel"), "trimmed_needs_judges", measure.panel, {"least": TRIMMED_FROM})
    if isinstance(measure, Rubric) and measure.judges_per_squad == 1:
        yield PlanProblem((*path, "judges_per_squad"), "judges_apart", 1)


def _names(plan: Plan) -> Iterator[PlanProblem]:
    """Events, and measures of one event, that nobody can tell apart in a list."""
    lists: list[tuple[Path, Sequence[Event | Measure]]] = [(("events",), plan.events)]
    lists += [(("events", e, "measures"), event.measures) for e, event in enumerate(plan.events)]
    for path, entries in lists:
        names = [" ".join(one.name.casefold().split()) for one in entries]
        for place, name in enumerate(names):
            if name in names[:place]:
                yield PlanProblem((*path, place, "name"), "name_again", entries[place].name)


def _beyond(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    """Values above the maximum that the plan itself makes possible."""
    if measure.scale != "maximum" or measure.maximum is None or lower_is_better(measure):
        return
    most = _most(measure)
    if most is not None and most > measure.maximum:
        kind = "over_capped" if measure.over_maximum == "cap" else "over_counts"
        yield PlanProblem((*path, "maximum"), kind, measure.maximum, {"reachable": most})


def _most(measure: Measure) -> Decimal | None:
    """The highest value that can be reached, where the plan says how much there is."""
    if isinstance(measure, Rubric | Share | Time):
        return None
    added = measure.attempts if measure.keep == "sum" else 1
    match measure:
        case Number():
            return None if measure.keep != "sum" else measure.highest * added
        case Checklist():
            return sum((line.points for line in measure.lines if line.points > 0), Decimal(0)) * added
        case Count():
            earning = [item for item in measure.items if item.points > 0]
            if any(item.most is None for item in earning):
                return None
            return sum((item.points * (item.most or 0) for item in earning), Decimal(0)) * added


def _unused(path: Path, measure: Measure) -> Iterator[PlanProblem]:
    """Settings that the measure's scale does not look at."""
    used = {"maximum": ("maximum",), "between": ("floor", "full")}.get(measure.scale, ())
    if measure.scale == "maximum" and isinstance(measure, Rubric | Share):
        used = ()
    within = isinstance(measure, Share | Time) or (isinstance(measure, Rubric) and measure.panel != "adjusted")
    if measure.over_maximum == "count" and (measure.scale != "maximum" or within):
        yield PlanProblem((*path, "over_maximum"), "unused", measure.over_maximum, {"scale": measure.scale})
    for name, value in (("maximum", measure.maximum), ("floor", measure.floor), ("full", measure.full)):
        if value is not None and name not in used:
            yield PlanProblem((*path, name), "unused", value, {"scale": measure.scale})
