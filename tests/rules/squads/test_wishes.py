"""Of whom a student may say whom they would like to be with."""

from bot.rules.squads import wishes
from tests.rules.squads.test_students_admin import ANN, BEN, BOB, ZOE


def test_wishes_are_about_everybody_else_of_the_section_by_name() -> None:
    assert wishes.others_in_order(ANN, [ZOE, ANN, BEN, BOB]) == [BOB, ZOE]
