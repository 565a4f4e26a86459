"""What the command line reads out of a database."""

from pathlib import Path

from bot.clerk.offline import standings_report
from storage.migrate import migrate
from tests.clerk.conftest import Begin
from tests.clerk.test_results import whole


async def test_the_standings_of_the_newest_try_out_are_printed_without_markup(begin: Begin, tmp_path: Path) -> None:
    await whole(begin)
    text = await standings_report(tmp_path / "tenbell.db")
    lines = text.split("\n")
    assert lines[0] == "Quillmere rover club try-out"
    assert lines[2].split("  ")[0] == "place" and "Core-sample run (40)" in lines[2]
    assert lines[3].split()[:3] == ["1", "Comet", "Crew"]
    assert "*" not in text and "The place: Comet Crew holds it now." in text


async def test_an_empty_database_says_so(tmp_path: Path) -> None:
    migrate(tmp_path / "empty.db")
    assert await standings_report(tmp_path / "empty.db") == "There is no try-out in this database yet."
