"""All turns as the coach sees them: which page comes first, who has few, and what can be done with which turn."""

from collections.abc import Sequence
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.lost_closed_or_cancelled_turns import check_held
from bot.rules.practice.practice_table import PracticeTable
from storage.records.people import Squad
from storage.records.practice import Turn

Deed = Literal["book", "lose", "unlose", "release", "close", "open"]
"""What a coach can do with a turn; `lose`: note it as lost through equipment, `release`: give it back."""


def check_may_book_for(table: PracticeTable, begin: datetime, squad: int, now: datetime) -> None:
    """The coach books any free turn for any squad that takes part, whatever number it has.

    Raises:
        Refusal: as `check_free`; `squad_withdrawn`.
    """
    table.check_free(begin, now)
    if squad not in table.squads:
        raise Refusal(Reason.SQUAD_WITHDRAWN)


def check_may_give_back_for(table: PracticeTable, begin: datetime, now: datetime) -> int:
    """The squad for which the coach gives a turn back, until it begins. Raises `turn_not_held`, `turn_over`."""
    squad_id = check_held(table, begin)
    if begin <= now:
        raise Refusal(Reason.TURN_OVER)
    return squad_id


def page_of_next_turn(slots: Sequence[datetime], now: datetime, size: int) -> int:
    """The page, from 0, on which the next turn stands; after the last turn has begun, the last page.

    `size`: how many turns a page holds.
    """
    past = sum(begin <= now for begin in slots)
    return min(past, max(0, len(slots) - 1)) // size


def fewest_first(table: PracticeTable, squads: Sequence[Squad]) -> list[tuple[int, list[Squad]]]:
    """Squads by how many turns they have; those with the fewest come first."""
    by_number: dict[int, list[Squad]] = {}
    for squad in squads:
        by_number.setdefault(len(table.held(squad.id)), []).append(squad)
    return sorted(by_number.items())


def deeds(turn: Turn | None, over: bool) -> set[Deed]:
    """What can be done with a turn (None: a free one); `over` once it has begun."""
    if turn is None:
        return set() if over else {"book", "close"}
    if turn.state == "held":
        return {"lose"} if over else {"lose", "release", "close"}
    if turn.state == "lost":
        return {"unlose"}
    return set() if over else {"open"}
