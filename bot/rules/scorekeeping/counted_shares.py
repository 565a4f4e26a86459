"""A share of members: out of how many it is, and where the bot itself counts it from the parts handed in."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.plan import Event
from storage.records.plan_measures import Measure, Share


def members_asked(members: int, present: int | None, hand_in: bool) -> int:
    """Out of how many members a share is: those who are here, where that was ticked; all, where parts are handed in."""
    return members if hand_in or not present else present


def proposed_share(handed_in: int | None) -> str:
    """What stands at first in the form of a share: how many have handed in a part, where the bot knows that."""
    return "" if handed_in is None else str(handed_in)


def is_counted(event: Event, measure: Measure) -> bool:
    """Whether the parts that are handed in say how many members took part."""
    return isinstance(measure, Share) and event.hand_in


def check_counted(event: Event, measure: Measure) -> None:
    """Only such a share is confirmed for all squads at once; Refusal `no_measure`."""
    if not is_counted(event, measure):
        raise Refusal(TableReason.NO_MEASURE)


def waits(made: int, absent: bool, members: int) -> bool:
    """Whether a squad still has no number: it takes part, has members, and nothing is on record of it."""
    return not made and not absent and members > 0
