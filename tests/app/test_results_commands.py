"""`tenbell standings`, `tenbell verify` and `tenbell packet`, as they are typed."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from bot.rules.scoring.packet import packet_text
from storage.migrate import migrate
from tests.app.real_program import ROOT, tenbell
from tests.app.test_backup_commands import recipes
from tests.rules.scoring.test_packet import packet_of, whole_book


def written(folder: Path) -> Path:
    path = folder / "results-packet.json"
    path.write_text(packet_text(packet_of(whole_book())), "utf-8")
    return path


async def test_a_packet_that_holds_shows_the_fingerprint_to_compare(tmp_path: Path) -> None:
    ended = await tenbell("verify", str(written(tmp_path)), folder=tmp_path)
    assert (ended.code, ended.complained) == (0, "")
    assert packet_of(whole_book()).plan_sha256 in ended.said
    assert "Compare it with the one posted with the brief." in ended.said
    assert ended.said.rstrip().endswith("all as it says.")


async def test_what_steers_a_terminal_reaches_none(tmp_path: Path) -> None:
    path = written(tmp_path)
    packet = json.loads(path.read_text("utf-8"))
    packet["results"]["missing"] = ["\x1b[2J\x1b[HThis packet holds"]
    path.write_text(json.dumps(packet), "utf-8")
    ended = await tenbell("verify", str(path), folder=tmp_path)
    assert ended.code == 1
    assert "\x1b" not in ended.said
    assert "<1b>[2J" in ended.said
    packet["\x1b[2J"] = 1
    path.write_text(json.dumps(packet), "utf-8")
    assert "\x1b" not in (await tenbell("verify", str(path), folder=tmp_path)).sentence()


def test_a_reader_who_goes_away_is_no_error(tmp_path: Path) -> None:
    """As with `| head`: the reading end of the pipe is closed before anything is printed."""
    with subprocess.Popen(
        [sys.executable, "-m", "bot", "verify", str(written(tmp_path))],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=ROOT,
    ) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == b""
        assert program.wait(30) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="it has another shell")
def test_who_closed_the_output_gets_the_code_all_the_same(tmp_path: Path) -> None:
    shell = ["sh", "-c", 'exec "$@" >&-', "sh"]
    ended = subprocess.run(
        [*shell, sys.executable, "-m", "bot", "verify", str(written(tmp_path))],
        stderr=subprocess.PIPE, cwd=ROOT, check=False, timeout=60,
    )  # fmt: skip
    assert (ended.returncode, ended.stderr) == (0, b"")


async def test_a_database_without_a_try_out_has_no_packet(tmp_path: Path) -> None:
    migrate(tmp_path / "tenbell.db")
    ended = await tenbell("packet", "--database", "tenbell.db", folder=tmp_path)
    assert (ended.code, ended.complained) == (1, "")
    assert "no try-out" in ended.said
    missing = await tenbell("packet", "--database", "other.db", folder=tmp_path)
    assert "other.db" in missing.sentence()


@pytest.mark.skipif(sys.platform == "win32", reason="a file with a hole takes room there")
async def test_of_a_file_without_end_no_more_is_read_than_a_packet_can_have(tmp_path: Path) -> None:
    path = tmp_path / "packet.json"
    with path.open("wb") as file:
        file.truncate(2**34)
    ended = await tenbell("verify", str(path), folder=tmp_path)
    assert ended.code == 2 and "Traceback" not in ended.complained


@pytest.mark.parametrize("name", ["absent.db", "folder", "picture.db", "recipes.db"])
async def test_standings_of_something_else(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "picture.db").write_bytes(bytes(range(256)) * 40)
    recipes(tmp_path)
    ended = await tenbell("standings", "--database", name, folder=tmp_path)
    assert name in ended.sentence()
