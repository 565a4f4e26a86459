"""Code names are different for a whole class, and fit the board."""

from bot.rules.squads.code_names import ANIMALS, COLOURS, LONGEST, code_name


def test_a_thousand_students_have_a_thousand_code_names() -> None:
    names = [code_name(number) for number in range(7, 7 + 1024)]
    assert len(set(names)) == 1024
    assert max(map(len, names)) <= LONGEST


def test_the_words_are_there_once() -> None:
    assert len(set(COLOURS)) == len(COLOURS) == 32
    assert len(set(ANIMALS)) == len(ANIMALS) == 32
