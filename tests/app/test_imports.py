"""What is imported when: the platform is reached before most of the program is, and slow libraries come last."""

import subprocess
import sys

import pytest

from tests.app.real_program import ROOT

LIGHT = "import bot.__main__, bot.app"
BEGUN = f"{LIGHT}\nfrom bot.actions.core.registry import begin\nbegin()"
ALL = f"{LIGHT}\nfrom bot.actions.core.registry import register_all\nregister_all()"
SLOW = {"scipy", "fpdf", "PIL"}


def imported_by(code: str) -> set[str]:
    """The modules a new process holds after running this."""
    shown = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint(*sys.modules)"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return set(shown.stdout.split())


@pytest.mark.parametrize("code", [LIGHT, ALL], ids=["at the start", "once it answers"])
def test_the_slow_libraries_are_not_imported(code: str) -> None:
    assert {name.partition(".")[0] for name in imported_by(code)} & SLOW == set()


def test_the_platform_is_reached_before_the_actions_are_imported() -> None:
    """The router names actions by their keys; importing their functions there would make every start slow."""
    late = {"bot.actions.squads.sign_up", "bot.actions.core.dispatch", "bot.words.core.refusals"}
    first = imported_by(LIGHT)
    assert first & (late | {"bot.when_connected", "bot.delivery.delivery_loop", "bot.interactions.router"}) == set()
    assert first & {"pydantic", "apscheduler"} == set(), "they come once we are on line"
    assert late <= imported_by(BEGUN)
