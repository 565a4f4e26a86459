"""The offered place: who is offered it next, for how many days, and how long the offer's text may be."""

from collections.abc import Collection

from bot.rules.scoring.standings_records import Standings
from storage.records.offers_and_feedback import Offer, OfferState

DAYS = (1, 2, 3, 4, 5)
USUAL_DAYS = 3
SHORTEST, LONGEST = 3, 300
"""Characters of what is offered."""
HOLDS_A_PLACE: tuple[OfferState, ...] = ("open", "accepted")
"""An offer in one of these states holds a place. It goes when the result is taken back; one that was declined stays."""


def next_in_line(standings: Standings, offers: Collection[Offer]) -> tuple[int, ...]:
    """The squads that may be offered a place now: for each contest, best first, one for each place that is free.

    Squads that were asked are not asked again. Where the last of them is exactly equal to others in line, all of these
    are in it, so that there may be more squads than free places: the coach has to choose.
    """
    asked = {offer.squad_id for offer in offers}
    found: list[int] = []
    for contest in standings.contests:
        made = [offer for offer in offers if len(standings.contests) == 1 or offer.squad_id in contest.squads]
        free = contest.places - places_kept(made)
        line = [row for row in standings.rows if row.squad_id in contest.squads and row.squad_id not in asked]
        if free > 0 and line:
            last = line[min(free, len(line)) - 1].rank
            found += [row.squad_id for row in line if row.rank is not None and last is not None and row.rank <= last]
    return tuple(found)


def places_kept(offers: Collection[Offer]) -> int:
    """How many places are offered or accepted."""
    return sum(offer.state in HOLDS_A_PLACE for offer in offers)
