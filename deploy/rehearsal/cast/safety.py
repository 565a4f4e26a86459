"""Safety at the table: somebody checks the lines before the first start, and one run is stopped for danger."""

from __future__ import annotations

from deploy.rehearsal.cast.day_board import Line
from deploy.rehearsal.cast.stage import OFFICE, Stage, awaited

WHY = "A cable lies across the way."
STOPPED_MINUTES = 4
"""So long it takes until the cable is away."""
STOPPED_RUN = (2, 1)
"""Which run is stopped: at this table, and after so many runs there."""
LINES = "Check the safety lines"


async def start_clock(stage: Stage, line: Line) -> None:
    """Start the clock of a pad; before the first start of a day somebody checks the safety lines."""
    started = (await stage.do(lambda: line.phone.press(line.at, "Start the clock"))).shown()
    if LINES in started.labels:
        lines = (await stage.do(lambda: line.phone.press(started, LINES))).shown()
        mine = next(label for label in lines.labels if label.startswith("Checked by me"))
        await stage.do(lambda: line.phone.press(lines, mine))
        started = (await stage.do(lambda: line.phone.press(line.at, "Start the clock"))).shown()
    line.pad = started


async def stopped(stage: Stage, line: Line) -> None:
    """Before one run something lies in the way: everything stops, and the coach lets it go on."""
    if (line.table, line.runs) != STOPPED_RUN:
        return
    form = (await stage.do(lambda: line.phone.press(line.at, "STOP: danger"))).opened()
    await stage.do(lambda: line.phone.fill(form, {"Why do you stop?": WHY}))
    coach, on = stage.coach, "Let it go on"
    told = await awaited(stage, lambda: coach.with_button(OFFICE, on))
    await stage.wait(minutes=STOPPED_MINUTES)
    await stage.do(lambda: coach.press(told, on))
