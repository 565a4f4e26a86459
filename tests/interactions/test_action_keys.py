"""No dead buttons: whatever can be pressed or typed leads to something the actions does."""

import re
from pathlib import Path

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.registry import register_all
from bot.interactions.office_commands import PARTS

BOT = Path(__file__).parents[2] / "bot"
KEYS = re.compile(r"""\bkey\(\s*["']([a-z.-]+)["']""")
TYPED = re.compile(r"""router\.(?:command|deal|suggest)\(interaction, ["']([a-z.-]+)["']""")


def found(pattern: re.Pattern[str]) -> set[str]:
    """All actions that a pattern finds in the code."""
    return {name for file in BOT.rglob("*.py") for name in pattern.findall(file.read_text("utf-8"))}


def test_every_button_select_and_form_leads_to_an_action() -> None:
    register_all()
    pressed = found(KEYS)
    assert len(pressed) > 100
    assert pressed - ACTIONS.keys() == set()


def test_every_command_leads_to_an_action() -> None:
    register_all()
    typed = found(TYPED)
    assert len(typed) > 20
    assert (typed | set(PARTS.values())) - ACTIONS.keys() == set()
