"""Searches of property tests are reproducible: what stands in other files has no part in them."""

import sys
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.test_house import ROOT


def examples() -> list[tuple[int, str]]:
    tried: list[tuple[int, str]] = []

    @settings(max_examples=100)
    @given(st.integers(), st.text())
    def attempt(number: int, text: str) -> None:
        tried.append((number, text))

    attempt()
    return tried


def test_a_module_with_new_literals_changes_no_example(monkeypatch: pytest.MonkeyPatch) -> None:
    if not settings().derandomize:
        pytest.skip("this search is to find what is new")
    before = examples()
    for number, path in enumerate(sorted((ROOT / "bot" / "rules").rglob("*.py"))):
        module = ModuleType(f"literals_{number}")
        module.__file__ = str(path)
        monkeypatch.setitem(sys.modules, module.__name__, module)
    assert examples() == before
