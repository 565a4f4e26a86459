"""In which order the ways to enter an attempt stand below a squad at the table (common practice, no source)."""

from bot.words.scorekeeping.score_table import Line, Turn, squad_page
from storage.records.plan_measures import Measure
from tests.rules.books import count, event, share, timed
from tests.words.invented import squad


def ways(measure: Measure, to_tick: bool) -> list[tuple[str, bool]]:
    """The buttons of the first row, and whether each is the filled one."""
    turn = Turn(allowed=1, to_tick=to_tick)
    first, *_ = squad_page(event("run", measure), measure, Line(squad(1, "Moles", "7-A", 10), (), None), (), turn).rows
    assert isinstance(first, tuple)
    return [(one.label, one.style == "main") for one in first]


def test_who_is_here_comes_first_then_what_is_tapped_or_timed_then_the_form() -> None:
    tick, pad, form = ways(count(attempts=1), to_tick=True)
    assert tick == ("Who is here", True) and pad == ("Run pad", False) and form == ("Enter attempt 1 of 1", False)
    assert ways(timed(attempts=1), to_tick=False) == [("Stopwatch", True), ("Enter attempt 1 of 1", False)]
    assert ways(share(), to_tick=False) == [("Enter members who took part", True)]
