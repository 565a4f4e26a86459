"""Panels (who sees whom) set by a coach: how many judges for each squad, who sits where, who meets too few others."""

from collections.abc import Collection, Iterable, Mapping, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.connectedness import Seen, shared_squads
from storage.records.people import Judge, Squad
from storage.records.plan_measures import Rubric
from storage.records.score_sheets import Sheet

FEWEST, MOST = 2, 24
"""Judges for each squad that can be picked beside "all"; with one judge a squad no two judges could be compared."""
SHARED_ENOUGH = 3
"""Below this many squads in common with other judges, a judge's estimated severity is mostly chance."""


def thinly_linked(seats: Iterable[Seen]) -> tuple[int, ...]:
    """Judges with too few squads in common with others to tell a strict judge from a weak squad."""
    return tuple(judge for judge, shared in shared_squads(seats).items() if shared < SHARED_ENOUGH)


def judges_per_squad(rubric: Rubric, chosen: int | None) -> int | None:
    """How many judges see each squad: as the coach has `chosen` (0: all), else as the plan says; None for all."""
    return rubric.judges_per_squad if chosen is None else chosen or None


def counted(judges: Sequence[Judge]) -> list[Judge]:
    """The judges whose marks count: only they are shared out."""
    return [judge for judge in judges if judge.weight > 0]


def sizes(judges: Sequence[Judge]) -> range:
    """How many judges for each squad can be picked, beside all of them."""
    return range(FEWEST, min(len(counted(judges)), MOST) + 1)


def has_begun(sheet: Sheet) -> bool:
    """Whether a judge stays on a squad whatever is shared out anew: something is marked, and not set aside."""
    return sheet.version > 0 and sheet.state != "recused"


def check_may_sit(picked: Collection[int], judges: Mapping[int, Judge], squad: Squad, tied: Collection[Seen]) -> None:
    """Nobody is seated at a squad in which they know someone. Raises Refusal `judge_tied` (judge, squad)."""
    for judge in picked:
        if (squad.id, judge) in tied:
            raise Refusal(Reason.JUDGE_TIED, judge=judges[judge].name, squad=squad.name)


def seats_by_hand(
    picked: Collection[int], begun: Collection[int], there: Mapping[int, bool], shown: Collection[int]
) -> dict[int, bool]:
    """Who sits at a squad once a coach has picked, and whether each was set by hand, by the judges' ids.

    Picked are judges of those `shown`; who else was `there` stays as they were (set by hand or not), and so does
    whoever has `begun`.

    Raises:
        Refusal: `panel_nobody`, when the squad would have no judge.
    """
    others = {judge: by_hand for judge, by_hand in there.items() if judge not in shown}
    seats = {judge: judge in picked or others.get(judge, False) for judge in sorted({*picked, *begun, *others})}
    if not seats:
        raise Refusal(Reason.PANEL_NOBODY)
    return seats
