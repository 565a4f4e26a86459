"""No dead buttons: whatever can be pressed or typed leads to something that is done."""

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.registry import check_complete, register_all
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import ALL_KEYS
from bot.words.core.slash_command_texts import OFFICE_PARTS


def test_every_action_key_has_exactly_one_handler() -> None:
    register_all()
    assert set(ACTIONS) == ALL_KEYS


def test_a_program_with_dead_buttons_does_not_start() -> None:
    with pytest.raises(RuntimeError, match=r"no handler for 1 actions: squad\.join"):
        check_complete(ALL_KEYS - {ActionKey.SQUAD_JOIN})
    with pytest.raises(RuntimeError, match="no handler"):
        check_complete(set())


def test_the_parts_of_the_office_are_actions() -> None:
    assert set(OFFICE_PARTS.values()) <= set(ActionKey)
