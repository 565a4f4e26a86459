"""The numbers: standings and everything about them, and agreement beside the reference libraries on the same data.

Times are medians. Each side gets the form of the data that it takes (arrays, a data frame, lists) ready-made.
"""

import timeit
import warnings
from collections.abc import Callable, Iterator
from statistics import median
from typing import Any

import krippendorff
import numpy as np
from scipy import stats

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.intraclass_correlation import icc
from bot.rules.analysis.judge_profiles import judge_views, mark_gaps
from bot.rules.analysis.kendall_w import kendall_w
from bot.rules.analysis.krippendorff_alpha import alphas, alphas_with_intervals, tabulate
from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import firmness
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.bench.report import Line, at_most
from tests.rules.tryouts import random_tryout

SQUADS, JUDGES, CRITERIA = 14, 6, 5
RESAMPLES = 200
FASTER = 5


def lines(quick: bool = False) -> Iterator[Line]:
    """Everything about the numbers."""
    runs = 5 if quick else 15
    for panel in ("mean", "adjusted"):
        book = random_tryout(SQUADS, JUDGES, CRITERIA, panel=panel)
        whole = milliseconds(lambda book=book: everything(book), runs)  # type: ignore[misc]
        size = f"{SQUADS} squads, {JUDGES} judges, {CRITERIA} criteria"
        yield at_most(f"standings and firmness, {panel}", f"{whole:.1f} ms: {size}", whole, 50, "at most 50 ms")
        middle = random_tryout(100, 20, CRITERIA, panel=panel)
        ranked = milliseconds(lambda book=middle: firmness(book, standings(book)), 3) / 1_000  # type: ignore[misc]
        size = "100 squads, 20 judges, complete"
        yield at_most(f"standings and firmness, {panel}", f"{ranked:.2f} s: {size}", ranked, 0.4, "at most 0.4 s")
    book = random_tryout(SQUADS, JUDGES, CRITERIA)
    drawn = milliseconds(lambda: judge_bootstrap(book), 3)
    yield Line("all 46,656 draws of six judges", f"{drawn:.0f} ms")
    checked = milliseconds(lambda: verify(build(book, standings(book))), runs)
    yield Line("packet built and verified", f"{checked:.1f} ms")
    large = random_tryout(1_000, 60, CRITERIA, seen_by=4, panel="adjusted")
    ranked = milliseconds(lambda: standings(large), 3) / 1_000
    size = "1,000 squads, 60 judges, 4 to a squad, exact"
    yield at_most("ranked with judge effects", f"{ranked:.2f} s: {size}", ranked, 1, "at most 1 s")
    firm = milliseconds(lambda: firmness(large, standings(large)), 1) / 1_000
    yield at_most("standings and firmness, adjusted", f"{firm:.1f} s: {size}", firm, 5, "at most 5 s")
    yield from _beside_libraries(runs)


def everything(book: ScoreBook) -> object:
    """All that a coach can see of the result, but for resampling."""
    result = standings(book)
    return result, firmness(book, result), agreements(result, resamples=0), judge_views(result), mark_gaps(result)


def milliseconds(job: Callable[[], object], runs: int) -> float:
    """The median time of a job, after one run to warm up."""
    job()
    return median(timeit.repeat(job, number=1, repeat=runs)) * 1_000


def _beside_libraries(runs: int) -> Iterator[Line]:
    marks = np.random.default_rng(1).integers(1, 6, (SQUADS, JUDGES, CRITERIA))
    owners = [squad for squad in range(SQUADS) for _ in range(JUDGES)]
    rows = marks.reshape(-1, CRITERIA)
    sheets = marks.sum(axis=2)
    table, by_judge = sheets.tolist(), sheets.T.tolist()
    judged = [marks[:, :, criterion].T.astype(float) for criterion in range(CRITERIA)]
    values = sheets.T.astype(float)
    frame = _frame(sheets)

    def our_alphas() -> object:
        return alphas(owners, rows, "ordinal")

    def their_alphas() -> object:
        return [krippendorff.alpha(reliability_data=data, level_of_measurement="ordinal") for data in judged]

    def our_intervals() -> object:
        return alphas_with_intervals(tabulate(owners, rows), "ordinal", 1, RESAMPLES)

    def their_intervals() -> object:
        chance = np.random.default_rng(1)
        draws = [chance.integers(SQUADS, size=SQUADS) for _ in range(RESAMPLES)]
        return [
            krippendorff.alpha(reliability_data=data[:, drawn], level_of_measurement="ordinal")
            for data in judged
            for drawn in draws
        ]

    def their_icc() -> object:
        import pingouin

        with warnings.catch_warnings(action="ignore"):
            return pingouin.intraclass_corr(frame, targets="squad", raters="judge", ratings="mark")

    totals = sheets.reshape(-1, 1)

    def our_agreement() -> object:
        whole = alphas(owners, totals, "interval")
        return our_alphas(), whole, icc(table), kendall_w(by_judge)

    def their_agreement() -> object:
        whole = krippendorff.alpha(reliability_data=values, level_of_measurement="interval")
        return their_alphas(), whole, their_icc(), stats.friedmanchisquare(*table)

    yield _ratio("agreement, all of it", our_agreement, their_agreement, runs, "the libraries", promised=True)
    yield _ratio("alpha with its interval", our_intervals, their_intervals, 3, "krippendorff", promised=True)
    yield _ratio("intraclass correlation", lambda: icc(table), their_icc, runs, "pingouin", promised=True)
    friedman = _ratio(
        "Kendall's W", lambda: kendall_w(by_judge), lambda: stats.friedmanchisquare(*table), 20 * runs, "scipy", True
    )
    yield friedman
    yield _ratio("alpha, the bare numbers", our_alphas, their_alphas, 20 * runs, "krippendorff", promised=True)


def _ratio(
    what: str, ours: Callable[[], object], theirs: Callable[[], object], runs: int, library: str, promised: bool
) -> Line:
    mine, other = milliseconds(ours, runs), milliseconds(theirs, runs)
    shown = f"{mine:.3f} ms, {other / mine:.1f}x as fast as {library} ({other:.3f} ms)"
    return Line(what, shown, f"at least {FASTER}x", other >= FASTER * mine) if promised else Line(what, shown)


def _frame(sheets: Any) -> Any:
    from importlib import import_module

    rows = [(squad, judge, sheets[squad, judge]) for squad in range(SQUADS) for judge in range(JUDGES)]
    return import_module("pandas").DataFrame(rows, columns=["squad", "judge", "mark"])
