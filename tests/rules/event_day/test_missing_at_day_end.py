"""What is missing when the day is over, beside what the standings wait for: two screens, one truth."""

from bot.rules.event_day.missing_at_day_end import missing
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import event, judges, plan, rubric, sheet, squads
from tests.rules.scoring.test_second_implementation import some_book

RECORDED = {"no_attempt", "too_few_attempts", "no_sheet", "open_sheet"}


def lacking(book: ScoreBook) -> set[tuple[int, str, str]]:
    events = {squad.id: book.plan.events for squad in book.squads}
    found = missing(events, book.squads, book.attempts, book.sheets, book.absences, book.judges)
    return {(squad, one.event.key, one.measure.key) for squad, all_of in found.items() for one in all_of if one.needed}


def test_a_squad_lacks_what_the_standings_wait_for_and_nothing_else() -> None:
    """Common practice, no source."""
    for seed in range(200):
        book = some_book(seed)
        waited = {(squad, gap.event, gap.measure) for squad, gap in standings(book).gaps if gap.kind in RECORDED}
        assert lacking(book) == waited, seed


def test_sheets_that_are_shown_and_not_counted_are_neither_missing_nor_enough() -> None:
    book = ScoreBook(
        plan=plan(event("art", rubric("patch"))),
        squads=squads(2),
        judges=judges(1, 0),
        sheets=(
            sheet(1, 1, "art.patch", [1, 2]),
            sheet(1, 2, "art.patch", None),
            sheet(2, 2, "art.patch", [3, 3]),
        ),
    )
    assert lacking(book) == {(2, "art", "patch")}
