"""The standings of a book are worked out once as long as nothing in it changes."""

from bot.actions.scoring.score_book import MOST_KEPT, standings_of
from tests.rules.tryouts import random_tryout


def test_the_same_book_is_reckoned_once_and_a_changed_one_anew() -> None:
    book = random_tryout(4, 3, 2)
    first = standings_of(book)
    assert standings_of(book.model_copy()) is first
    changed = book.model_copy(update={"attempts": book.attempts[1:]})
    assert standings_of(changed) is not first
    assert standings_of(book) is first
    for squads in range(5, 5 + MOST_KEPT):
        standings_of(random_tryout(squads, 3, 2))
    assert standings_of(book) is not first
    assert standings_of(book) == first
