"""If the same judges were drawn by lot again: how often each squad would hold a place then, in words."""

from fractions import Fraction
from math import ceil, sqrt

from bot.rules.analysis.confidence_intervals import LEVEL, Z
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap, most_often
from bot.words.core.number_text import count, percent
from bot.words.scoring.result_view import ResultView

SHOWN = 5
"""Squads whose share of the draws is told; the others are counted."""


def bootstrap_lines(result: ResultView, drawn: JudgeBootstrap) -> str:
    """How often each squad would hold a place with another draw of the same judges."""
    if drawn.judges < 2:
        return "With fewer than two judges there is no other draw of them to try."
    if not drawn.usable:
        return "No other draw of the same judges gives every squad a judge, so none can be tried."
    shares = draw_shares(result, drawn)
    named = [f"{result.name(squad)} {percent(share, not drawn.exact)}" for squad, share in shares]
    rest = sum(share > 0 for share in drawn.share.values()) - len(shares)
    if rest:
        named.append(f"{count(rest, 'other squad')} less often")
    one, open_ = result.standings.places == 1, result.standings.places - sum(drawn.share.values(), Fraction(0))
    if one and open_:
        named.append(f"nobody {percent(open_, not drawn.exact)}")
    text = (
        "**If the same judges were drawn by lot again** (some twice, some not at all), "
        f"{'the place' if one else 'a place'} would go to: {', '.join(named) or 'nobody'}."
    )
    if not one and open_:
        text += " In some or all of the draws a place stays open."
    if drawn.share != drawn.sole:
        text += " Where squads tie for the last place, it counts for each in part."
    if drawn.usable < 1:
        why = "they leave a squad without a judge, or squads that cannot be compared"
        text += f" Not counted are {percent(1 - drawn.usable, not drawn.exact)} of the draws: {why}."
    if not drawn.exact:
        off = ceil(100 * Z * sqrt(0.25 / float(drawn.draws * drawn.usable)))
        text += f" These are {drawn.draws} draws, so a share may be off by up to {off} points ({LEVEL} % level)."
    return text


def draw_shares(result: ResultView, drawn: JudgeBootstrap) -> list[tuple[int, Fraction]]:
    """The squads that hold a place most often, with their shares."""
    return most_often(drawn, {squad_id: squad.number for squad_id, squad in result.squads.items()})[:SHOWN]
