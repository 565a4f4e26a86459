"""The board of the event day: who is on at a scorekeeper's table, and opening that squad."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime

from deploy.rehearsal.cast import score_table
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.rendering import Shown

BOARD = "Who is next"
ON = re.compile(r"\*\*Table (\d+)\*\*: \*\*on\*\* (\d+) ")
TIME = r"\*\*Table {table}\*\*: \*\*on\*\* .*?<t:(\d+):t>"
"""When the squad is to run that is on at a table."""


@dataclass
class Line:
    """A scorekeeper at a table, with the squad that is there."""

    name: str
    phone: Phone
    table: int
    card: Shown | None = None
    """The squad that is on; None when nobody is left."""
    pad: Shown | None = None
    wanted: int = 0
    runs: int = 0

    @property
    def at(self) -> Shown:
        """The pad that is open."""
        assert self.pad is not None
        return self.pad

    @property
    def there(self) -> Shown:
        """The card of the squad that is on."""
        assert self.card is not None
        return self.card

    @property
    def squad(self) -> str:
        """Number and name of the squad that is on."""
        found = re.match(r"\*\*(\d+ .+?)\*\*: ", self.there.text)
        if found is None:
            raise CastMistake(f"no squad stands on {self.there.text!r}")
        return found[1].replace("\\", "")

    @property
    def number(self) -> str:
        """The number of the squad that is on."""
        return self.squad.partition(" ")[0]


async def board_of(stage: Stage, line: Line) -> Shown:
    """A scorekeeper opens the board."""
    opened = await score_table.open_table(stage, line.name)
    return (await stage.do(lambda: line.phone.press(opened, BOARD))).shown()


async def open_squad(stage: Stage, line: Line, board: Shown) -> Shown | None:
    """Open the squad that is on at a table; None when nobody is."""
    on = on_at(board).get(line.table)
    label = next((one for one in board.labels if on is not None and one.startswith(f"Open {on} ")), None)
    if label is None:
        return None
    return (await stage.do(lambda: line.phone.press(board, label))).shown()


def on_at(board: Shown) -> dict[int, str]:
    """The number of the squad that is on at each table."""
    return {int(table): squad for table, squad in ON.findall(board.text)}


def told_time(board: Shown, table: int) -> datetime:
    """The time that the squad was told that is on at a table."""
    due = re.search(TIME.format(table=table), board.text)
    assert due is not None
    return datetime.fromtimestamp(int(due[1]), UTC)
