"""Why them? One squad's whole way from what was recorded to its total, for the coach."""

from collections.abc import Sequence
from fractions import Fraction
from functools import partial

from bot.rules.core.rounding import rounded
from bot.rules.results.preview import in_order
from bot.rules.scoring.panel_rules import rule_used
from bot.rules.scoring.scales import highest_value
from bot.rules.scoring.standings_records import EventScore, MeasureScore, Row
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count, exact, exact_percent
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.results.explain_total_picture import why_picture
from bot.words.scorekeeping.attempt_value_text import lower_note, value_of, value_text
from bot.words.scorekeeping.attempts import squad_label
from bot.words.scoring.missing_scores import gap_text
from bot.words.scoring.picture_canvas import drawable_name
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.scales_and_panels import BY_SCALE, PANELS
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message
from storage.records.plan_measures import Measure, Rubric, Share


def squads(result: ResultView, page: int) -> Message:
    """Pick the squad to explain."""
    everyone = in_order(result.standings)
    if not everyone:
        return Message(text="No squad takes part yet.")
    choices = [choice(row.squad_id, squad_label(result.squads[row.squad_id]), _place(result, row)) for row in everyone]
    turn = partial(key, ActionKey.RESULTS_SQUADS)
    listed = list_page(choices, page, "Which squad?", key(ActionKey.RESULTS_SQUAD), turn)
    return Message(text=f"Whose way to the total do you want to see?{listed.line}", rows=listed.rows)


def _place(result: ResultView, row: Row) -> str:
    """A squad's place; none is named while another squad waits."""
    if row.rank is None:
        return "something is missing"
    return f"place {row.rank}" if result.standings.complete else "no places yet: other squads wait"


def explain(result: ResultView, row: Row, page: int = 0, picture: bool = True) -> Message:
    """The way of one squad, page by page; the first page carries the picture."""
    found = pages(_blocks(result, row), MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    page = within(page, len(found))
    files: tuple[Attachment, ...] = ()
    if picture and page == 0 and row.total is not None:
        files = (why_picture(result, row, f"Why {drawable_name(result.squads[row.squad_id])}?"),)
    turn = turning(ActionKey.RESULTS_SQUAD_PAGE, page, len(found), row.squad_id)
    back = (Button(key=key(ActionKey.RESULTS_SQUADS, 0), label="Another squad"),)
    return Message(text=found[page] + page_line(page, len(found)), files=files, rows=(turn, back) if turn else (back,))


def _blocks(result: ResultView, row: Row) -> list[str]:
    place = _place(result, row)
    place = f"not ranked: {place}" if row.rank is None else f"{place}, total {result.total(row)}"
    blocks = [f"**{row.number} {result.name(row.squad_id)}**: {place}"]
    blocks += [_event(result, row, event) for event in row.events]
    if row.total is not None:
        parts = " + ".join(_points(event.contribution) for event in row.events if event.contribution is not None)
        blocks.append(f"**Total** {parts} = **{result.total(row)}**\n-# Rounded for show; the packet has every digit.")
    if row.gaps:
        blocks.append("**Missing**\n" + "\n".join(f"- {gap_text(result, gap)}" for gap in row.gaps))
    return blocks


def _points(value: Fraction | None) -> str:
    return "-" if value is None else rounded(value, 1)


def _event(result: ResultView, row: Row, event: EventScore) -> str:
    name = f"**{escape(result.event(event.key).name)}**"
    if event.state == "excused":
        reason = _reason(result, row, event)
        return f"{name}: excused{reason}; the total is the mean of the other events"
    if event.state == "absent":
        return f"{name}: absent{_reason(result, row, event)}, 0 points x {exact_percent(event.share)} = 0.0"
    lines = [_measure(result, event, score) for score in event.measures]
    if event.points is None:
        return "\n".join((f"{name}: not complete", *lines))
    head = (
        f"{name}: {rounded(event.points, 1)} points x {exact_percent(event.share)} = **{_points(event.contribution)}**"
    )
    return "\n".join((head, *lines))


def _reason(result: ResultView, row: Row, event: EventScore) -> str:
    for absence in result.book.absences:
        if (absence.squad_id, absence.event) == (row.squad_id, event.key) and absence.reason:
            return f" ({escape(absence.reason)})"
    return ""


def _measure(result: ResultView, event: EventScore, score: MeasureScore) -> str:
    measure = result.measure(event.key, score.key)
    weight = "" if len(event.measures) == 1 else f", {exact_percent(score.share)} of the event"
    lines = [f"- {escape(measure.name)}{weight}: {_reached(measure, score)}"]
    if isinstance(measure, Rubric):
        lines += _sheets(result, measure, score)
    else:
        made = {one.id: one for one in result.book.attempts}
        lines += [f"  - attempt {one.number}: {value_text(measure, made[one.attempt_id])}" for one in score.attempts]
    return "\n".join(lines)


def _reached(measure: Measure, score: MeasureScore) -> str:
    if score.scaled is None:
        return "missing"
    if score.value is None:
        return "did not finish, so 0"
    reached = f"{rounded(score.scaled * 100, 1)} %"
    if isinstance(measure, Share) and measure.scale == "maximum":
        return reached
    value = "" if isinstance(measure, Share) else f"{value_of(measure, score.value)}{_rule(measure, score)}, "
    lower = "lower is better, " if lower_note(measure) else ""
    return f"{value}{lower}{BY_SCALE[measure.scale]}{_top(measure)} = {reached}"


def _rule(measure: Measure, score: MeasureScore) -> str:
    if isinstance(measure, Rubric):
        return f" ({PANELS[rule_used(measure.panel, sum(not sheet.shown_only for sheet in score.sheets))]})"
    if not isinstance(measure, Share) and measure.attempts > 1:
        return {"best": " (best)", "sum": " (sum)", "mean-of-best-two": " (mean of the best two)"}[measure.keep]
    return ""


def _top(measure: Measure) -> str:
    if measure.scale == "maximum" and not isinstance(measure, Share):
        return f" {exact(highest_value(measure))}"
    if measure.scale == "between" and measure.floor is not None and measure.full is not None:
        return f" ({exact(measure.floor)} to {exact(measure.full)})"
    return ""


def _sheets(result: ResultView, rubric: Rubric, score: MeasureScore) -> Sequence[str]:
    lines = []
    for sheet in score.sheets:
        marks = ", ".join(f"{escape(one.name)} {sheet.marks[one.key]}" for one in rubric.criteria)
        weighted = ", shown, not counted" if sheet.shown_only else f", weight {exact(sheet.weight)}"
        weight = "" if sheet.weight == 1 else weighted
        who = result.judge(sheet.judge_id)
        lines.append(f"  - {who}{weight}: {marks} = {exact(sheet.value)}")
    return lines or [f"  - {count(0, 'sheet')} handed in"]
