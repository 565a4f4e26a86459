"""What the command line reads out of a database."""

import re
from pathlib import Path

import pytest

from bot.actions.scoring.command_line_packet import newest_packet
from bot.actions.scoring.command_line_standings import standings_report
from bot.rules.core.refusal import Refusal
from bot.words.core import refusals
from tests.actions.conftest import Begin
from tests.actions.scored import whole
from tests.databases import new_database


async def test_the_standings_of_the_newest_try_out_are_printed_without_markup(begin: Begin, tmp_path: Path) -> None:
    await whole(begin)
    text = await standings_report(tmp_path / "tenbell.db")
    lines = text.split("\n")
    assert lines[0] == "Quillmere robot club try-out"
    assert lines[2] == "Complete: all 3 squads can be ranked; nothing is missing."
    assert lines[4].split("  ")[0] == "place" and "Sock run (40 %)" in lines[4]
    assert lines[5].split()[:3] == ["1", "Crooked", "Spoons"]
    assert "*" not in text and "The place: Crooked Spoons holds it now." in text


async def test_before_judging_closes_the_command_line_prints_who_owes_what_and_no_number(
    begin: Begin, tmp_path: Path
) -> None:
    asking, _ = await whole(begin, state="judging")
    text = await standings_report(tmp_path / "tenbell.db")
    assert "Sealed: no marks, points or order are shown before judging is closed." in text
    assert "place" not in text and "holds it" not in text and not re.search(r"\d\.\d", text)
    assert "all 3 squads can be ranked" in text
    with pytest.raises(Refusal) as refused:
        await newest_packet(tmp_path / "tenbell.db")
    assert "Before judging is closed nobody can read totals or an order" in refusals.message(refused.value).text
    await asking.ask("table.undone:1:slip")
    text = await standings_report(tmp_path / "tenbell.db")
    assert "NOT COMPLETE: 1 of 3 squads cannot be ranked; 1 entry is missing at the table." in text


async def test_an_empty_database_says_so(tmp_path: Path) -> None:
    new_database(tmp_path / "empty.db")
    assert await standings_report(tmp_path / "empty.db") == "There is no try-out in this database yet."
