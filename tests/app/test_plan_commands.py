"""`tenbell plan check`, as it is typed, and the help that names every command."""

import re
from pathlib import Path

import pytest

from bot.words.plan.builtin_plan import builtin_plan_text
from tests.app.real_program import tenbell


async def test_help_names_every_command_in_words(tmp_path: Path) -> None:
    ended = await tenbell("--help", folder=tmp_path)
    assert ended.code == 0
    named = re.findall(r"^    ([a-z]+)(?: |$)", ended.said, re.MULTILINE)
    assert set(named) >= {"run", "rehearse", "try", "plan", "standings", "backup", "restore"}


async def test_a_good_plan_is_shown_and_a_bad_one_is_mended_line_by_line(tmp_path: Path) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(builtin_plan_text(), "utf-8")
    text = builtin_plan_text().replace("zone = ", "zone = 7 #", 1).replace("places = 1", "places = 99", 1)
    bad.write_text(text, "utf-8")
    shown = await tenbell("plan", "check", str(good), folder=tmp_path)
    mended = await tenbell("plan", "check", str(bad), folder=tmp_path)
    assert (shown.code, shown.complained) == (0, "")
    assert (mended.code, mended.complained) == (1, "")
    assert "zone" in mended.said and "places" in mended.said


@pytest.mark.parametrize("name", ["absent.toml", "folder"])
async def test_a_plan_that_is_not_there(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    ended = await tenbell("plan", "check", name, folder=tmp_path)
    assert ended.sentence() == f"There is no file {name} that I can read."


async def test_a_plan_that_is_a_picture(tmp_path: Path) -> None:
    (tmp_path / "picture.toml").write_bytes(bytes(range(256)))
    ended = await tenbell("plan", "check", "picture.toml", folder=tmp_path)
    assert (ended.code, ended.complained) == (1, "")
    assert "not saved as UTF-8" in ended.said
