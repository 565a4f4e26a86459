"""The deliberate faults can still be put in: what each replaces stands there once, and its tests are there."""

from pathlib import Path

import pytest

from tests.faults.deliberate_faults import FAULTS, Fault
from tests.faults.try_faults import ROOT


def test_there_are_enough_and_no_two_are_one() -> None:
    assert len(FAULTS) >= 40
    assert len({(one.file, one.old, one.new) for one in FAULTS}) == len(FAULTS) == len({one.what for one in FAULTS})


@pytest.mark.parametrize("fault", FAULTS, ids=lambda one: one.what)
def test_a_fault_can_be_put_in(fault: Fault) -> None:
    assert (ROOT / fault.file).read_text("utf-8").count(fault.old) == 1
    assert all((ROOT / one).exists() for one in fault.tests.split())


def test_the_developers_page_names_each_with_its_floor() -> None:
    floors = [(Path(one.file).parts[0 if one.file.startswith("storage/") else 1], one.what) for one in FAULTS]
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert [row for row in floors if f"| {row[0]} | {row[1]} |" not in page] == []
