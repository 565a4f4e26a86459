"""A squad's own result: its own numbers, with no other squad and no judge's name in it."""

from datetime import datetime
from fractions import Fraction

from bot.rules.core.rounding import rounded
from bot.rules.plan.worked_example import depends_on_others
from bot.rules.results.own_result import shows_range
from bot.rules.scoring.standings_records import EventScore, MeasureScore, Row, SheetScore
from bot.words.core.buttons import QUESTION
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact_percent, out_of
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted, signed
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from bot.words.plan.how_points_are_made import PANEL_RULES, times
from bot.words.results.explain_total_picture import own_title, why_picture
from bot.words.scorekeeping.attempt_value_text import lower_note, value_of, value_text
from bot.words.scoring.result_view import ResultView
from storage.records.message import MESSAGE_LENGTH, Message
from storage.records.plan_measures import Measure, Rubric, Share

BEGINS = signed(Sign.RESULT, "**Your ")
"""How each result in a squad's room begins, corrected or not."""


@posted(Sign.RESULT)
def own_result(
    result: ResultView, row: Row, until: datetime | None, again: bool = False, earlier: str | None = None
) -> Message:
    """What a squad reads in its own room at the minute of the announcement; `again` for a corrected one.

    `earlier` is what it read before, so that it is told which of its own numbers have changed.
    """
    what = "Your corrected result" if again else "Your result"
    total = "" if row.total is None else f"**Total: {result.total(row)} of 100 points**"

    compared = "" if earlier is None else _compared(result, row, total, earlier)

    def composed(blocks: list[str]) -> str:
        instead = f"\nIt takes the place of the earlier one.{compared}" if again else ""
        head = (f"**{what}**: {result.name(row.squad_id)}{instead}", total, who_reads("result"))
        return "\n\n".join(("\n".join(filter(None, head)), *blocks, provisional(until, room=True)))

    whole = composed([_event(result, row, event) for event in row.events])
    if len(whole) > MESSAGE_LENGTH:
        whole = composed([_event_line(result, event) for event in row.events])
    pictures = (why_picture(result, row, own_title(result, row)),) if row.total is not None else ()
    return Message(text=pages([whole])[0], files=pictures, rows=() if until is None else ((QUESTION,),))


def _compared(result: ResultView, row: Row, total: str, earlier: str) -> str:
    """What did not stand so in the earlier one; that may have been without the details of the events."""
    details = "\n- " in earlier
    parts = [_event(result, row, event) if details else _event_line(result, event) for event in row.events]
    changed = [] if total in earlier else ["the total"]
    changed += [
        escape(result.event(event.key).name)
        for event, part in zip(row.events, parts, strict=True)
        if part not in earlier
    ]
    return f" What has changed: {listing(changed)}." if changed else " Your own numbers have not changed."


def provisional(until: datetime | None, room: bool = False) -> str:
    """Until when the result may be questioned, and how; `room` where the button stands below."""
    if until is None:
        return "This result is final at once. Do you have questions about it? Talk to your coach."
    place = "" if room else " in your squad's room"
    return (
        f"This result is provisional until {full(until)}. Was something run or added up wrongly? Until then your "
        f"captain can press **{QUESTION.label}**{place}. What the judges think stays as it is."
    )


def _event_line(result: ResultView, event: EventScore) -> str:
    name = escape(result.event(event.key).name)
    if event.state == "excused":
        return f"**{name}**: your coach has excused your squad, so it is left out of your total."
    if event.state == "absent":
        return f"**{name}**: your squad was not there, so 0 points."
    points = rounded(event.points or Fraction(0), 1)
    return f"**{name}**: {points} of 100 points. It counts {exact_percent(event.share)} of the total."


def _event(result: ResultView, row: Row, event: EventScore) -> str:
    lines = [_event_line(result, event)]
    if event.state == "scored":
        lines += [_measure(result, row, event, score) for score in event.measures]
    return "\n".join(lines)


def _measure(result: ResultView, row: Row, event: EventScore, score: MeasureScore) -> str:
    measure = result.measure(event.key, score.key)
    gives = _gives(measure, score, len(event.measures) == 1)
    if isinstance(measure, Rubric):
        return _rubric(measure, [sheet for sheet in score.sheets if not sheet.shown_only], gives)
    made = {one.id: one for one in result.book.attempts}
    each = [value_text(measure, made[one.attempt_id]) for one in score.attempts]
    if len(each) == 1:
        return f"- {escape(measure.name)}: {each[0]}{lower_note(measure)}{gives}"
    lines = [f"  - attempt {one.number}: {text}" for one, text in zip(score.attempts, each, strict=True)]
    return "\n".join((f"- {escape(measure.name)}: {kept_text(measure, score)}{gives}", *lines))


def _gives(measure: Measure, score: MeasureScore, alone: bool) -> str:
    """What a measure gives to the points of its event, and how much it could give; `alone` it gives all of them.

    Where that cannot be worked out from the squad's own numbers, it is said.
    """
    if score.scaled is None:
        return ""
    compared = depends_on_others(measure)
    if alone:
        return ". It is compared with the other squads." if compared else ""
    gives = f". This gives {out_of(score.scaled * score.share * 100, score.share * 100)} points"
    return f"{gives}, compared with the other squads." if compared else f"{gives}."


def kept_text(measure: Measure, score: MeasureScore) -> str:
    """Which value stands, out of several attempts."""
    keep = "best" if isinstance(measure, Rubric | Share) else measure.keep
    rule = {
        "best": f"the best attempt counts{', lower is better' if lower_note(measure) else ''}",
        "sum": "the attempts are added",
        "mean-of-best-two": "mean of the best two",
    }
    return f"{value_of(measure, score.value)} ({rule[keep]})"


def _rubric(rubric: Rubric, sheets: list[SheetScore], gives: str) -> str:
    spread = shows_range(len(sheets))
    shown = ": the mean, and from lowest to highest mark" if spread else ": the mean" if len(sheets) > 1 else ""
    lines = [f"- {escape(rubric.name)}{gives or '.'} Marked by {count(len(sheets), 'judge')}{shown}"]
    for criterion in rubric.criteria:
        marks = [sheet.marks[criterion.key] for sheet in sheets]
        mean = rounded(Fraction(sum(marks), len(marks)), 1)
        between = f" ({_between(min(marks), max(marks))})" if spread else ""
        lines.append(f"  - {escape(criterion.name)}: {mean} of {len(criterion.levels)}{between}{times(criterion)}")
    if rubric.panel != "mean" and len(sheets) > 1:
        lines.append(f"  - {PANEL_RULES[rubric.panel]}")
    return "\n".join(lines)


def _between(low: int, high: int) -> str:
    return f"all gave {low}" if low == high else f"{low} to {high}"
