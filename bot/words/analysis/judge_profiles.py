"""How each judge marks, harsh or lenient, and where two of them are far apart, in plain words and with caution."""

from collections.abc import Sequence

from bot.rules.analysis.confidence_intervals import LEVEL
from bot.rules.analysis.judge_profiles import HARDLY, JudgeView, widest_first
from bot.rules.analysis.judges_evened_out import Evened
from bot.rules.judging.second_look import FAR_APART, MarkGap
from bot.words.core.number_text import count, exact, in_words
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView

GAPS_NAMED = 12
"""So many places are named at which judges are far apart, the widest first; of more only how many."""


def judge_block(result: ResultView, views: Sequence[JudgeView], found: Evened | None) -> str:
    """How each judge marks under one rubric, with how sure that is."""
    head = f"**How each judge marks: {result.rubric_name(views[0].event, views[0].measure)}**"
    sure = {view.judge_id: None if found is None else found.reach(view.judge_id) for view in views}
    return "\n".join((head, *(f"- {_judge(result, view, sure[view.judge_id])}" for view in views)))


def _judge(result: ResultView, view: JudgeView, reach: float | None) -> str:
    who = result.judge(view.judge_id)
    parts = [f"{who}, {count(view.sheets, 'sheet')}: {_severity(view, reach)}"]
    if view.spread is not None:
        parts.append(f"marks spread by {view.spread:.1f}")
    if view.consistency is not None:
        parts.append(f"follows the others {view.consistency:.2f}")
    if view.single_level is not None and view.tells_single_level:
        same = view.single_level * view.sheets
        parts.append(f"the same level throughout on {exact(same)} of {view.sheets} sheets")
    if view.tells_halo:
        parts.append(f"all criteria move together ({view.halo:.2f}): perhaps one strong impression")
    return "; ".join(parts)


def _severity(view: JudgeView, reach: float | None) -> str:
    if not view.is_compared:
        return "too few squads in common with other judges to tell harsh from lenient"
    if not view.is_harsh_or_lenient:
        return "neither harsh nor lenient"
    points = float(view.severity)
    sure = "" if reach is None or reach < HARDLY else f" (give or take {reach:.1f} at the {LEVEL} % level)"
    way = "harsher" if points > 0 else "more lenient"
    return f"{abs(points):.1f} sheet points {way} than the average judge{sure}"


def gap_block(result: ResultView, gaps: Sequence[MarkGap]) -> str:
    """Where two judges of one squad are far apart; whose marks they are is not said."""
    if not gaps:
        return f"Nowhere are two judges of one squad {in_words(FAR_APART)} levels or more apart."
    lines = [
        f"- {result.name(gap.squad_id)}, {escape(result.criterion(gap.event, gap.measure, gap.criterion))}: "
        f"from {gap.lowest} to {gap.highest}"
        for gap in widest_first(gaps)[:GAPS_NAMED]
    ]
    if len(gaps) > GAPS_NAMED:
        lines.append(f"- and {len(gaps) - GAPS_NAMED} more")
    return f"**{in_words(FAR_APART).capitalize()} levels or more apart** (worth a second look)\n" + "\n".join(lines)
