"""How many members a squad has, in words, also where it is one."""

import pytest

from bot.words.plan.squad_size import members_text, squad_size
from storage.records.plan import Squads
from tests.actions.conftest import small_plan


@pytest.mark.parametrize(
    ("smallest", "largest", "size", "members"),
    [
        (3, 5, "3 to 5", "3 to 5 members"),
        (4, 4, "4", "4 members"),
        (1, 1, "1", "1 member"),
        (1, 2, "1 to 2", "1 to 2 members"),
    ],
)
def test_a_squad_of_one_has_one_member(smallest: int, largest: int, size: str, members: str) -> None:
    plan = small_plan(squads=Squads(smallest=smallest, largest=largest))
    assert (squad_size(plan), members_text(plan)) == (size, members)
