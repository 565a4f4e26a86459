"""No dead buttons: whatever can be pressed or typed leads to something that is done."""

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.registry import register_all
from bot.interactions.command_options import PARTS
from bot.words.core.action_keys import ActionKey


def test_every_action_key_has_exactly_one_handler() -> None:
    register_all()
    assert set(ACTIONS) == set(ActionKey)


def test_the_parts_of_the_office_are_actions() -> None:
    assert set(PARTS.values()) <= set(ActionKey)
