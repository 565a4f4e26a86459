"""What is missing before each step, and whether it stands in the way."""

from dataclasses import replace

import pytest

from bot.rules.office.readiness import Step, lacks, ready
from bot.words.office.readiness import lack_lines, not_ready
from tests.rules.calendar.ready_for_each_step import READY, kinds


@pytest.mark.parametrize("step", ["open", "brief", "settle", "announce"])
def test_where_nothing_is_missing_nothing_is_said(step: Step) -> None:
    assert lacks(READY, step) == ()


@pytest.mark.parametrize(
    ("step", "lacking", "kind", "blocks"),
    [
        ("open", {"rooms": frozenset({"news"})}, "rooms", True),
        ("brief", {"alone": 3}, "alone", False),
        ("judge", {}, "window_open", True),
        ("settle", {"sheets": 10, "sheets_done": 7}, "sheets", False),
        ("announce", {"rooms": frozenset({"news"})}, "rooms", True),
        ("archive", {"state": "judging"}, "not_announced", False),
    ],
)
def test_what_is_missing_for_a_step_is_named(step: Step, lacking: dict[str, object], kind: str, blocks: bool) -> None:
    found = replace(READY, **lacking)  # type: ignore[arg-type]
    assert kinds(lacks(found, step)) == [(kind, blocks)]
    assert ready(found, step) is not blocks
    line = lack_lines(lacks(found, step))
    assert line.startswith("- ") and "{" not in line
    if blocks:
        assert line in not_ready(step, lacks(found, step)).text


def test_what_stands_in_the_way_comes_first() -> None:
    found = lacks(replace(READY, squads=0, alone=2, judges=0), "brief")
    assert [lack.blocks for lack in found] == [True, False, False]
