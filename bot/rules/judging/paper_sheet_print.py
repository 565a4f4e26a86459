"""Score sheets on paper: which events are printed, sealed surprises apart, and in which order squads stand."""

from collections.abc import Collection, Sequence

from bot.rules.judging.connectedness import Seen
from bot.rules.judging.presentation_order import order_of, places
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.score_sheets import Sheet


def is_printed(event: Event, opened: Collection[str], sealed: bool) -> bool:
    """Whether an event's sheets are printed: a surprise once it is open.

    `sealed`: instead those of surprises that are not, for the coach to keep under lock and key.
    """
    return (event.surprise and event.key not in opened) == sealed


def handed_out(sheets: Sequence[Sheet], event: str, measure: str) -> list[int]:
    """The squads (ids) whose sheets a judge has, in that order; not those the judge stepped back from."""
    return [one.squad_id for one in sheets if (one.event, one.measure) == (event, measure) and one.state != "recused"]


def before_handed_out(
    judge: Judge, squads: Sequence[Squad], tied: Collection[Seen], seats: Collection[Seen] | None
) -> list[int]:
    """The squads (ids) that a judge will have, in the order in which they will be handed out.

    `tied` are pairs of a squad and a judge who may not mark it; `seats` those that are shared out, or None where every
    judge sees every squad.
    """
    if seats is None:
        order = [squads[one].id for one in order_of(judge.number, len(squads))]
        return [squad for squad in order if (squad, judge.id) not in tied]
    order_here = places({seat for seat in seats if seat not in tied})
    return [squad for _, squad in sorted((place, seat[0]) for seat, place in order_here.items() if seat[1] == judge.id)]
