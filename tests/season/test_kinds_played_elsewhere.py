"""What the lists of kinds say of themselves: each kind stands in one of them, and what is typed has no button."""

import re
from itertools import combinations
from pathlib import Path

import pytest

from bot.words.core.custom_ids import ALL_KEYS
from tests.season.kinds_played_elsewhere import IN_A_LARGE_CLASS, IN_ANOTHER_PLAN, ON_TWO_CLASS_SERVERS, TYPED

BOT = Path(__file__).parents[2] / "bot"
TYPING = BOT / "interactions"
"""Where what is typed is read: commands, their suggestions, and direct messages."""


def test_each_listed_kind_is_one_and_stands_in_one_list() -> None:
    lists = (IN_A_LARGE_CLASS, IN_ANOTHER_PLAN, ON_TWO_CLASS_SERVERS, TYPED)
    assert not [one & other for one, other in combinations(lists, 2) if one & other]
    assert set().union(*lists) <= {key.value for key in ALL_KEYS}


@pytest.mark.parametrize("kind", sorted(TYPED))
def test_no_button_and_no_form_carries_what_is_typed(kind: str) -> None:
    """Its key is named where it is handled and where something typed is read, and nowhere else in the bot."""
    (name,) = (key.name for key in ALL_KEYS if key.value == kind)
    places = [
        (path, line)
        for path in BOT.rglob("*.py")
        for line in path.read_text("utf-8").splitlines()
        if re.search(rf"Key\.{name}\b", line) and not line.startswith(("@act(", "@view("))
    ]
    assert places and all(TYPING in path.parents for path, _ in places), places
