"""A judge who knows someone in a squad does not mark it: until when a judge can say so, and of which squads."""

from collections.abc import Collection, Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.connectedness import Seen
from bot.rules.judging.my_sheets import Entry
from storage.records.people import Squad


def may_not_mark(ties: Iterable[Seen], own_squads: Iterable[Seen]) -> frozenset[Seen]:
    """Who may not mark whom, as (squad, judge): where a tie was set, and judges who are in a squad themselves."""
    return frozenset((*ties, *own_squads))


def check_still_open(totals_hidden: bool) -> None:
    """Judges say so until the close: afterwards it would change a result that can be seen. Raises `tie_closed`."""
    if not totals_hidden:
        raise Refusal(Reason.TIE_CLOSED)


def check_may_step_back(squad: Squad, tied: bool, handed_in: bool) -> None:
    """A judge steps back from a squad once, and not after the sheet for it is in; then the coach can take it out.

    Raises:
        Refusal: `tie_known` (squad), `tie_too_late` (squad).
    """
    if tied:
        raise Refusal(Reason.TIE_KNOWN, squad=squad.name)
    if handed_in:
        raise Refusal(Reason.TIE_TOO_LATE, squad=squad.name)


def is_offered(entry: Entry) -> bool:
    """Whether a judge who looks at a sheet can still step back from its squad."""
    return entry.changeable and not entry.done


def to_step_back_from(squads: Iterable[Squad], tied: Collection[int], handed_in: Collection[int]) -> list[Squad]:
    """The squads of which a judge can still say so, of these; `tied` and `handed_in` are ids of squads."""
    return [squad for squad in squads if squad.id not in tied and squad.id not in handed_in]
