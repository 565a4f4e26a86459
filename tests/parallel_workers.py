"""How many processes the checks are run by, and in which order: the long ones first."""

import os
from pathlib import Path

import pytest

TESTS = Path(__file__).parent

LONG = (
    "season/test_troubled_season.py",
    "season/test_season.py",
    "connection/test_malformed_gateway_events.py",
    "connection/test_outages.py",
    "connection/test_proxy.py",
    "tryroom",
    "season",
    "deploy",
    "app",
    "delivery",
    "rehearsal",
    "actions/core",
    "actions/results",
    "rules/scoring",
)
"""Where tests take long or wait for other processes. They come first, so that none is left alone at the end."""


def pytest_xdist_auto_num_workers() -> int:
    """Two workers more than there are processors, since many tests wait."""
    return (os.cpu_count() or 1) + 2


def _rank(path: Path) -> int:
    inside = path.relative_to(TESTS)
    names = {inside.as_posix(), *(folder.as_posix() for folder in inside.parents)}
    return next((rank for rank, name in enumerate(LONG) if name in names), len(LONG))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Long tests first; within a folder the order stays."""
    items.sort(key=lambda item: _rank(item.path))
