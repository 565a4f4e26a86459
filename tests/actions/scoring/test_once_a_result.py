"""What is worked out from a result is worked out once as long as nothing in its book changes."""

from bot.actions.scoring.once_a_result import MOST_KEPT, once_a_result
from bot.actions.scoring.score_book import outcome_of
from bot.rules.scoring.standings_records import Standings
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.tryouts import random_tryout


def test_it_is_worked_out_once_a_book_whoever_looks_and_anew_when_the_book_has_changed() -> None:
    asked = []

    @once_a_result
    def first_of(book: ScoreBook, standings: Standings) -> int:
        asked.append(book)
        return standings.rows[0].squad_id

    def leader(result: ResultView) -> int:
        return first_of(result.book, result.standings)

    book = random_tryout(4, 3, 2)
    first = leader(outcome_of(book))
    assert leader(outcome_of(book.model_copy(), frozenset({1}))) == first
    assert len(asked) == 1
    leader(outcome_of(book.model_copy(update={"attempts": book.attempts[1:]})))
    assert len(asked) == 2
    for squads in range(5, 5 + MOST_KEPT):
        leader(outcome_of(random_tryout(squads, 3, 2)))
    assert len(asked) == 2 + MOST_KEPT
    assert leader(outcome_of(book)) == first
    assert len(asked) == 3 + MOST_KEPT
