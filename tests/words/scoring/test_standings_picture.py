"""Pictures and the words that say the same."""

import pytest

from bot.rules.scoring.standings import standings
from bot.words.scoring.picture_canvas import _drawn, drawable_name
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings_picture import standings_picture
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, counted_book, event, judges, plan, rubric, sheet, squads


def outcome(table: list[list[int]], *names: str) -> ResultView:
    book = counted_book(table, (40, 30, 30)[: len(table[0])])
    if names:
        renamed = tuple(one.model_copy(update={"name": name}) for one, name in zip(book.squads, names, strict=True))
        book = book.model_copy(update={"squads": renamed})
    return ResultView(book, standings(book))


def size(png: bytes) -> tuple[int, int]:
    assert png.startswith(b"\x89PNG")
    return int.from_bytes(png[16:20]), int.from_bytes(png[20:24])


@pytest.mark.parametrize("squads_in", [1, 2, 15, 25])
def test_a_picture_is_as_wide_as_two_phones_and_as_high_as_it_has_squads(squads_in: int) -> None:
    found = outcome([[90 - n, 50, 2 * n] for n in range(squads_in)])
    picture = standings_picture(found, found.rows, "Standings")
    width, height = size(picture.data)
    assert width == 810
    assert abs(height - 341 - 108 * squads_in) <= 2


def test_the_alt_text_holds_every_number_of_the_picture() -> None:
    found = outcome([[100, 50, 30], [40, 100, 100]], "Crooked Spoons", "Muddy Teapots")
    alt = standings_picture(found, found.rows, "Standings").alt
    assert "1. Muddy Teapots 76.0 = 16.0 + 30.0 + 30.0" in alt
    assert "2. Crooked Spoons 64.0 = 40.0 + 15.0 + 9.0" in alt


def test_totals_that_differ_by_a_hair_look_different_in_picture_and_alt_text() -> None:
    book = counted_book([[7000], [7001]], (1,))
    measure = book.plan.events[0].measures[0].model_copy(update={"maximum": 1_000_000})
    changed = book.plan.events[0].model_copy(update={"measures": (measure,)})
    book = book.model_copy(update={"plan": book.plan.model_copy(update={"events": (changed,)})})
    found = ResultView(book, standings(book))
    alt = standings_picture(found, found.rows, "Standings").alt
    assert "1. Squad 2 0.7001" in alt and "2. Squad 1 0.7000" in alt


def test_long_names_shorten_the_alt_text_and_never_break_it() -> None:
    names = [f"{'Longest of all the names there are so'}{n:3}" for n in range(25)]
    found = outcome([[90 - n, 50, 2 * n] for n in range(25)], *names)
    alt = standings_picture(found, found.rows, "Standings").alt
    assert len(alt) <= 1024 and "and " in alt and " more" in alt


def test_the_same_result_gives_the_same_picture_byte_for_byte() -> None:
    first, second = (outcome([[90, 50], [40, 70]]) for _ in range(2))
    assert standings_picture(first, first.rows, "A") == standings_picture(second, second.rows, "A")


@pytest.mark.parametrize("name", ["火星探検隊", "فريق المريخ", "צוות מאדים"])
def test_names_that_the_letters_cannot_draw_are_drawn_as_numbers_and_spoken_as_they_are(name: str) -> None:
    found = outcome([[90, 50]], name)
    assert drawable_name(found.squads[1]) == "Squad 1"
    assert name in standings_picture(found, found.rows, "Standings").alt


def test_dollar_signs_are_no_formula() -> None:
    found = outcome([[90, 50]], "Cash $x^$ Crew")
    assert size(standings_picture(found, found.rows, "Standings").data)[0] == 810


def judged(marks: list[list[int]]) -> tuple[ScoreBook, ResultView]:
    book = ScoreBook(
        plan=plan(event("core", count("m")), event("bunting", rubric("bunting", (1, 1)))),
        squads=squads(len(marks)),
        judges=judges(*[1] * len(marks[0])),
        attempts=tuple(attempt(squad, "core.m", core=60 + squad) for squad in range(1, len(marks) + 1)),
        sheets=tuple(
            sheet(squad, judge, "bunting.bunting", [mark, mark])
            for squad, row in enumerate(marks, start=1)
            for judge, mark in enumerate(row, start=1)
        ),
    )
    return book, ResultView(book, standings(book))


def test_a_picture_hangs_on_what_is_drawn_alone_and_is_drawn_once() -> None:
    found = outcome([[90, 50, 2], [40, 30, 20]], "Crooked Spoons", "Muddy Teapots")
    other = outcome([[90, 50, 2], [40, 30, 21]], "Crooked Spoons", "Muddy Teapots")
    _drawn.cache_clear()
    first = standings_picture(found, found.rows, "Standings").data
    assert standings_picture(found, found.rows, "Standings").data == first
    assert standings_picture(other, other.rows, "Standings").data != first
    assert (_drawn.cache_info().hits, _drawn.cache_info().misses) == (1, 2)
    _drawn.cache_clear()
    assert standings_picture(found, found.rows, "Standings").data == first
