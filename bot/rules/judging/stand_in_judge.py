"""Who takes the seat of a judge who steps back from a squad, while what, and of which squads they are told."""

from collections import Counter
from collections.abc import Collection, Sequence

from bot.rules.judging.my_sheets import Entry
from storage.records.judging import Seat
from storage.records.people import Judge, Squad


def is_replaced(closed: bool, each_marks_all: bool) -> bool:
    """Whether somebody takes an empty seat: while judging of the event is not closed, and its judges share squads."""
    return not closed and not each_marks_all


def stand_in(
    squad_id: int, seats: Sequence[Seat], judges: Sequence[Judge], tied: Collection[tuple[int, int]]
) -> Judge | None:
    """Who takes an empty seat: free of ties, not seated there, with the fewest squads, who met the others least.

    `seats` are the others of the panel, `tied` pairs of a squad and a judge who may not mark it. Nobody whose marks
    count for nothing; of equals the one with the lower number.
    """
    here = {one.judge_id for one in seats if one.squad_id == squad_id}
    loads = Counter(one.judge_id for one in seats)
    shared = {one.squad_id for one in seats if one.judge_id in here}
    met = Counter(one.judge_id for one in seats if one.squad_id in shared)
    free = [judge for judge in judges if judge.weight > 0 and judge.id not in here and (squad_id, judge.id) not in tied]
    return min(free, key=lambda judge: (loads[judge.id], met[judge.id], judge.number), default=None)


def told_of(judge: Judge, taken: Sequence[Squad], mine: Sequence[Entry]) -> list[Squad]:
    """The squads taken over of which the judge is told, with the sheets `mine`: where there is something to mark.

    A judge who has not agreed yet is told of none.
    """
    if judge.opted_in_at is None:
        return []
    return [squad for squad in taken if any(entry.squad.id == squad.id and entry.owed for entry in mine)]
