"""The database is for the user of the bot alone, with a real store and real files."""

import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from storage.lock import only_process
from storage.migrate import migrate
from storage.private_files import create_private
from storage.store import Store
from tests.storage.test_restore import CRASH

pytestmark = pytest.mark.skipif(os.name != "posix", reason="modes of files are a matter of POSIX")

HOLD = """
import sys
from pathlib import Path
from storage.lock import DatabaseInUse, only_process
try:
    with only_process(Path(sys.argv[1])):
        print("got it")
except DatabaseInUse:
    print("in use")
"""


@pytest.fixture(params=[0o000, 0o022, 0o277], ids=oct)
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    """From a umask that takes nothing away to one that takes even the owner's right to write."""
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


def modes(folder: Path) -> dict[str, int]:
    return {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.iterdir() if path.is_file()}


async def write(path: Path) -> dict[str, int]:
    """Start on a database as the bot does, write, and look at the files meanwhile."""
    with only_process(path):
        migrate(path)
        async with Store.open(path) as store:
            async with store.write() as db:
                await db.run("INSERT INTO processed_interaction VALUES (1, '', '{}')")
            return modes(path.parent)


@pytest.mark.usefixtures("umask")
async def test_new_files_can_be_read_by_nobody_else(tmp_path: Path) -> None:
    found = await write(tmp_path / "a.db")
    assert {"a.db", "a.db-shm", "a.db-wal", "a.db.lock"} <= found.keys()
    assert set(found.values()) == {0o600}


@pytest.fixture
def open_to_others(tmp_path: Path) -> Path:
    """A database, and what a crash left beside it, as an earlier version made them."""
    path = tmp_path / "a.db"
    migrate(path)
    subprocess.run([sys.executable, "-c", CRASH, str(path)], check=False, timeout=60)
    (tmp_path / "a.db.lock").touch()
    for name in ("a.db", "a.db-shm", "a.db-wal", "a.db.lock"):
        (tmp_path / name).chmod(0o664)
    return path


async def test_files_that_others_could_read_are_shut_at_the_next_start(open_to_others: Path) -> None:
    assert set((await write(open_to_others)).values()) == {0o600}


async def test_the_store_shuts_its_files_without_a_start_of_the_bot(open_to_others: Path) -> None:
    async with Store.open(open_to_others, readers=1):
        found = modes(open_to_others.parent)
    assert {found[name] for name in ("a.db", "a.db-shm", "a.db-wal")} == {0o600}


def test_a_folder_in_the_place_of_the_database_keeps_its_mode(tmp_path: Path) -> None:
    folder = tmp_path / "a.db"
    folder.mkdir(mode=0o755)
    create_private(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o755


def test_someone_refused_at_the_lock_does_not_open_it_for_the_next(tmp_path: Path) -> None:
    """To close a second handle on a locked file would end the lock, as POSIX has it."""
    path = tmp_path / "a.db"
    with only_process(path):
        create_private(tmp_path / "a.db.lock")
        ended = subprocess.run(
            [sys.executable, "-c", HOLD, str(path)], check=True, capture_output=True, text=True, timeout=60
        )
    assert ended.stdout.strip() == "in use"
