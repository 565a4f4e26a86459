"""A squad that is not there for its run: it runs last, and the second time the coach decides."""

from __future__ import annotations

from dataclasses import dataclass

from deploy.rehearsal.cast.day_board import Line, board_of, on_at, open_squad, told_time
from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.cast.press_sequence import in_room
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.wire.rendering import Button, Shown

LEFT_OUT = "was not here again"


@dataclass
class NoShow:
    """The one squad that is not there when it is called."""

    stage: Stage
    squad: str = ""
    """Its number."""
    left_out: bool = False
    """Whether it was not there a second time."""

    async def not_here(self, line: Line, board: Shown) -> bool:
        """The first squad of a table has not come when its time is there: it runs last, or the coach must decide."""
        await self.stage.until(told_time(board, line.table))
        self.squad = on_at(board)[line.table]
        place = next(at for at, one in enumerate(board.buttons) if one.label.startswith(f"Open {self.squad} "))
        gone: Button = board.buttons[place + 1]
        sure = (await self.stage.do(lambda: line.phone.press(board, gone))).shown()
        outcome = await self.stage.do(lambda: line.phone.press(sure, "It is not here"), told="was not here")
        left_out = LEFT_OUT in outcome.text
        self.left_out = self.left_out or left_out
        return left_out

    async def still_not_here(self, line: Line) -> None:
        """The squad that was sent to the end has not come yet; the second time the coach lets it run after all others.

        Then it is there.
        """
        while line.card is not None and line.number == self.squad and not self.left_out:
            if self.stage.rough:
                return
            if await self.not_here(line, await board_of(self.stage, line)):
                await in_room(self.stage, COACH, OFFICE, "Let it run at the end")
            line.card = await open_squad(self.stage, line, await board_of(self.stage, line))
