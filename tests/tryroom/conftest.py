"""A room whose bot was never started."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from deploy.rehearsal.tryroom.open_room import open_room
from deploy.rehearsal.tryroom.room import TryRoom


@pytest.fixture
def room(tmp_path: Path) -> Iterator[TryRoom]:
    """A room whose bot was never started."""
    made = open_room(tmp_path / "room", 1, None)
    made.stopped = True
    yield made
