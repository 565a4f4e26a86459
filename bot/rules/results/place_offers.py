"""The offered place: who is offered it next and for how many days, who answers, and when an offer lapses."""

from collections.abc import Collection, Iterable
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.finality import Doubt
from bot.rules.scoring.standings_records import Standings
from storage.records.people import Squad
from storage.records.results import Offer, OfferState
from storage.records.tryout import State

DAYS = (1, 2, 3, 4, 5)
USUAL_DAYS = 3
"""School days that a squad has to answer: on offer, and where the coach says nothing."""
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


def place_is_free(places: int, squads: int, offers: Collection[Offer], students: bool) -> bool:
    """Whether another of so many squads could be asked about a place.

    While no squad was asked, places that `students` hold, or were offered one by one, are enough.
    """
    if not offers:
        return not students
    return places_kept(offers) < places and len(offers) < squads


def places_kept(offers: Collection[Offer]) -> int:
    """How many places are offered or accepted."""
    return sum(offer.state in HOLDS_A_PLACE for offer in offers)


def check_may_answer(squad: Squad, student_id: int | None, is_coach: bool) -> None:
    """The squad's captain answers, or a coach who was told in person.

    Raises Refusal: `only_captain_answers` (squad).
    """
    captain = student_id is not None and student_id == squad.captain_id
    if not captain and not is_coach:
        raise Refusal(ResultReason.ONLY_CAPTAIN_ANSWERS, squad=squad.name)


def check_may_lapse(name: str, answer_by: datetime | None, why: Doubt | None, now: datetime) -> None:
    """An offer lapses only after its last day, and not while a protest is open (`why` the result is not final).

    One to a student who was told no last day may lapse at any time. `name` is of the squad or student.

    Raises Refusal: `offer_runs` (name, until), `place_waits`.
    """
    if answer_by is not None and now < answer_by:
        raise Refusal(ResultReason.OFFER_RUNS, name=name, until=int(answer_by.timestamp()))
    if why is not None and why.protests:
        raise Refusal(ResultReason.PLACE_WAITS)


def read_days(chosen: str) -> int:
    """School days to answer in, as chosen; the usual ones where nothing on offer was."""
    return next((one for one in DAYS if str(one) == chosen), USUAL_DAYS)


def still_owes(made: Offer, state: State) -> bool:
    """Whether a squad still owes the answer: its offer is open, and the result stands."""
    return made.state == "open" and state == "announced"


def is_over(made: Offer, now: datetime) -> bool:
    """Whether the last moment to answer is past."""
    return made.answer_by <= now


def noted_by_coach(made: Offer) -> bool:
    """Whether the coach may note what a squad says: it has not answered, or has said yes."""
    return made.state in HOLDS_A_PLACE


def unknown_to_class(offers: Iterable[Offer], placed: Collection[int]) -> list[int]:
    """The squads that have said yes and of whom the class has read no place: they came next in line."""
    return [one.squad_id for one in offers if one.state == "accepted" and one.squad_id not in placed]


def in_order(offers: Iterable[Offer]) -> list[Offer]:
    """In which order the coach reads them, and picks one to note an answer: as they were made."""
    return sorted(offers, key=lambda one: one.id)


def may_be_given_back(made: Offer) -> bool:
    """Whether the coach may note that a squad cannot take the place after all: it has accepted it."""
    return made.state == "accepted"
