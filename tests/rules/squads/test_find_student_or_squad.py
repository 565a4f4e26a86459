"""Which names hold the letters that somebody types, and which come first."""

from bot.rules.squads import find_student_or_squad as rules
from tests.rules.squads.test_students_admin import ANN, BEN, BOB, ZOE
from tests.words.invented import squad


def test_names_with_a_word_that_begins_so_come_first_then_by_name() -> None:
    found = [one.name for one, _ in rules.students_in_order([(one, None) for one in (ZOE, BOB, BEN, ANN)], "B")]
    assert found == ["Ben", "Bob"]
    squads = [squad(1, "Oddballs"), squad(2, "The Balls"), squad(3, "Balloons"), squad(4, "Newts")]
    assert [one.number for one in rules.squads_in_order(squads, "ball")] == [3, 2, 1]
