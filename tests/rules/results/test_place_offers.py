"""Who is next in line for the place."""

from datetime import UTC, datetime

from bot.rules.results.place_offers import in_order, next_in_line, place_is_free
from bot.rules.scoring.standings import standings
from storage.records.results import Offer, OfferState
from tests.rules.books import counted_book
from tests.rules.scoring.test_places_on_team import grouped_book

NOW = datetime(2027, 1, 4, tzinfo=UTC)


def offer(squad: int, state: OfferState) -> Offer:
    return Offer(id=squad, tryout_id=1, squad_id=squad, state=state, what="it", made_at=NOW, answer_by=NOW)


def line(table: list[list[int]], *offers: Offer, places: int = 1) -> tuple[int, ...]:
    book = counted_book(table, (1,))
    book = book.model_copy(update={"plan": book.plan.model_copy(update={"places": places})})
    return next_in_line(standings(book), offers)


def test_the_best_squad_that_was_not_asked_is_next_while_a_place_is_free() -> None:
    table = [[50], [70], [60]]
    assert line(table) == (2,)
    assert line(table, offer(2, "open")) == ()
    assert line(table, offer(2, "accepted")) == ()
    assert line(table, offer(2, "declined")) == (3,)
    assert line(table, offer(2, "lapsed"), offer(3, "declined")) == (1,)
    assert line(table, offer(2, "lapsed"), offer(3, "declined"), offer(1, "declined")) == ()


def test_a_place_is_free_until_as_many_are_offered_or_accepted_as_there_are_or_nobody_is_left_to_ask() -> None:
    assert place_is_free(1, 3, (), students=False)
    assert not place_is_free(1, 3, (), students=True), "a team of single students needs no squad"
    assert not place_is_free(1, 3, (offer(1, "open"),), students=False)
    assert place_is_free(1, 3, (offer(1, "declined"),), students=True), "a squad was asked, and the next one can be"
    assert place_is_free(2, 3, (offer(1, "accepted"),), students=False)
    assert not place_is_free(2, 2, (offer(1, "accepted"), offer(2, "lapsed")), students=False)


def test_equal_alternates_are_all_in_line_so_that_the_coach_must_choose() -> None:
    assert line([[70], [60], [60]], offer(1, "declined")) == (2, 3)


def test_as_many_are_in_line_as_places_are_free() -> None:
    assert line([[50], [70], [60]], places=2) == (2, 3)
    assert line([[50], [70], [60]], offer(3, "accepted"), places=2) == (2,)


def test_offers_are_read_as_they_were_made() -> None:
    first, second = offer(1, "declined"), offer(2, "open")
    assert in_order([second, first]) == [first, second]


def test_a_place_is_offered_on_within_its_group_and_never_below_the_minimum() -> None:
    found = standings(grouped_book([90, 80, 70, 60, 30], "OOPPP", qualify=50))
    assert next_in_line(found, ()) == (1, 3, 4)
    declined = Offer(id=1, tryout_id=1, squad_id=1, what="a place", state="declined", made_at=NOW, answer_by=NOW)
    assert next_in_line(found, (declined,)) == (2, 3, 4)
    accepted = declined.model_copy(update={"state": "accepted"})
    gone = Offer(id=2, tryout_id=1, squad_id=3, what="a place", state="declined", made_at=NOW, answer_by=NOW)
    assert next_in_line(found, (accepted, gone)) == (4,)
