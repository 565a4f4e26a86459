"""The report of a checked plan: every mistake, or what the plan means and all that is worth knowing."""

from datetime import datetime
from fractions import Fraction
from textwrap import wrap

from bot.rules.calendar.calendar import Schedule, schedule
from bot.rules.core.measure_direction import lower_is_better
from bot.rules.event_day.day_windows import day_dates
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import fingerprint, read_plan
from bot.rules.practice.practice_table import slots
from bot.rules.scoring.scales import highest_value
from bot.rules.scoring.tie_breaks import has_run_offs
from bot.words.calendar import brief
from bot.words.calendar.calendar_view import explain
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact, exact_percent
from bot.words.core.plain_text import without_markup
from bot.words.core.times import day_text, seconds_text, with_moments
from bot.words.plan.how_points_are_made import tie_name
from bot.words.plan.new_event_template import TO_WRITE
from bot.words.plan.places_on_team import minimum_text, places_text
from bot.words.plan.plan_problems import in_words, problem_line
from bot.words.plan.squad_size import squad_size
from bot.words.scorekeeping.attempt_value_text import lower_note
from storage.records.plan import Event, Plan
from storage.records.plan_measures import AtTable, Checklist, Count, Measure, Number, Rubric, Share, Time

WIDTH = 120


def plan_check_report(toml: str | bytes, now: datetime | None = None) -> tuple[str, bool]:
    """The report on a plan file, and whether the plan can be used; with `now` also what is past already."""
    try:
        plan = read_plan(toml)
    except BadPlan as bad:
        return mistakes_report(bad), False
    remarks = [problem_line(remark) for remark in plan_remarks(plan, now)] + _still_to_write(plan)
    planned = schedule(plan)
    parts = [
        ["This plan is right.", "", *plan_summary(plan)],
        ["CALENDAR", *explain(plan, planned)],
        _practice(plan, planned),
        _event_day(plan, planned),
        ["WHAT STUDENTS READ when the brief is out (a surprise stays secret)", _as_read(plan, planned)],
        ["WORTH KNOWING", *remarks] if remarks else [],
        ["FINGERPRINT (SHA-256 of the exported file; it shows later that nothing was changed)", fingerprint(plan)],
    ]
    return "\n\n".join("\n".join(part) for part in parts if part), True


def mistakes_report(bad: BadPlan) -> str:
    """The report on a plan that cannot be used."""
    lines = [f"This plan has {count(len(bad.problems) + bad.left_out, 'mistake')}.", ""]
    left = [f"… and {bad.left_out} more. Mend these first."] if bad.left_out else []
    return "\n".join([*lines, *(problem_line(problem) for problem in bad.problems), *left])


def _still_to_write(plan: Plan) -> list[str]:
    """Which events still have the text that a plan made from answers begins with."""
    names = [event.name for event in plan.events if event.about.strip() == TO_WRITE]
    return [f"Students still read “{TO_WRITE}” in {listing(names)}. Write there what squads do."] if names else []


def _practice(plan: Plan, planned: Schedule) -> list[str]:
    """How far the turns at the table go."""
    turns, expected = len(slots(plan, planned)), plan.squads.expected
    if plan.practice is None:
        return []
    lines = ["PRACTICE", f"{count(turns, 'turn')} of {count(plan.practice.minutes, 'minute')} at the shared table."]
    if expected is None:
        lines.append(f"That is one for each of {turns} squads, or two for {turns // 2}.")
        lines.append("Write `expected` under [squads], and I compare it with the squads you expect.")
    else:
        lines.append(f"That is {turns // expected} for each of the {expected} squads expected.")
    return lines


def _event_day(plan: Plan, planned: Schedule) -> list[str]:
    """When the event days are, and what can go on there."""
    day = plan.event_day
    if day is None:
        return []
    dates = listing([day_text(on) for on in day_dates(plan, planned)])
    runs = f"{count(day.tables, 'run')} at a time, {count(day.run_minutes, 'minute')} each"
    talks = f"interviews of {count(day.interview_minutes, 'minute')}"
    lessons = f"{count(len(day.lessons), 'lesson')} named" if day.lessons else "no lessons named"
    return ["EVENT DAY", f"{dates}: {runs}; {talks}; {lessons}."]


def _as_read(plan: Plan, planned: Schedule) -> str:
    """The brief as it is read, with dates as the chat shows them in the school's zone."""
    plain = without_markup(with_moments(brief.whole(plan, planned), planned.zone))
    # A terminal does not wrap between words, as the chat does.
    lines = [wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ") or [""] for line in plain.split("\n")]
    return "\n".join(part for line in lines for part in line)


def plan_summary(plan: Plan) -> list[str]:
    """What a plan says besides its dates, line by line."""
    total = sum((Fraction(event.weight) for event in plan.events), Fraction(0))
    every = [event.key for event in plan.events]
    ties = "".join(f"{tie_name(plan, one, every)}, then " for one in plan.tie_breaks)
    ties += "a run-off" if has_run_offs(plan) else "the coach decides (nothing can be run off)"
    return [
        plan.name,
        f"{places_text(plan)}; squads of {squad_size(plan)} from "
        f"{count(len(plan.sections), 'section')}: {', '.join(plan.sections)}.",
        "",
        "EVENTS",
        *(line for event in plan.events for line in _event(event, total)),
        "",
        f"When totals are equal: {ties}.",
        *([minimum] if (minimum := minimum_text(plan)) else []),
        f"The announcement shows {_ANNOUNCED[plan.announce]}.",
    ]


_ANNOUNCED = {
    "winner": "the winner, and thanks everyone",
    "podium": "the first three places",
    "table": "the whole table",
}
_KEPT = {"best": "the best counts", "sum": "all are added", "mean-of-best-two": "the mean of the best two counts"}
_PANEL = {
    "mean": "mean of the judges",
    "median": "median of the judges",
    "trimmed": "mean without the highest and the lowest",
    "adjusted": "evened out between mild and strict judges",
}


def _event(event: Event, total: Fraction) -> list[str]:
    within = sum((Fraction(measure.weight) for measure in event.measures), Fraction(0))
    secret = ", a surprise" if event.surprise else ""
    lines = [f"{exact_percent(Fraction(event.weight) / total):>7}  {event.name}{secret}"]
    for measure in event.measures:
        part = exact_percent(Fraction(measure.weight) / within)
        lines.append(f"        {part:>6}  {measure.name}: {_measure(measure)}; {_scale(measure)}")
    return lines


def _measure(measure: Measure) -> str:
    match measure:
        case Count():
            items = listing([f"{item.name} {in_words(item.points)}" for item in measure.items])
            return f"count{lower_note(measure)}, points each: {items}; {_attempts(measure)}"
        case Number():
            span = f"{in_words(measure.lowest)} to {in_words(measure.highest)} {measure.unit}"
            return f"number{lower_note(measure)}, {span}, {count(measure.decimals, 'decimal')}; {_attempts(measure)}"
        case Checklist():
            lines = listing([f"{line.name} {in_words(line.points)}" for line in measure.lines])
            return f"checklist, points each: {lines}; {_attempts(measure)}"
        case Time():
            return f"time, at most {seconds_text(measure.limit)}; {_attempts(measure)}"
        case Rubric():
            judges = f", {measure.judges_per_squad} judges a squad" if measure.judges_per_squad else ""
            return f"{count(len(measure.criteria), 'criterion', 'criteria')}, {_PANEL[measure.panel]}{judges}"
        case Share():
            return "members who took part, of all members"


def _scale(measure: Measure) -> str:
    match measure.scale:
        case "between":
            return f"from {in_words(measure.floor)} (no points) to {in_words(measure.full)} (full points)"
        case "best":
            return "compared with the best squad"
        case "rank":
            return "by rank"
        case "standard":
            return "by distance from the mean (T-score)"
        case "maximum" if isinstance(measure, Time):
            return f"the part of {seconds_text(measure.maximum or measure.limit)} that is left"
        case "maximum" if isinstance(measure, Rubric | Share):
            return "of the most possible"
        case "maximum" if lower_is_better(measure):
            return f"0 is worth all points, {exact(highest_value(measure))} none"
        case "maximum":
            over = "" if measure.over_maximum == "cap" else ", and more counts more"
            return f"of {exact(highest_value(measure))}{over}"


def _attempts(measure: AtTable) -> str:
    if isinstance(measure, Share):
        return ""
    kept = f", {_KEPT[measure.keep]}" if measure.attempts > 1 else ""
    return f"{count(measure.attempts, 'attempt')}{kept}"
