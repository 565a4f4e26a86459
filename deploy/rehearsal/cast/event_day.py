"""The event day: the coach draws the order and makes the timetable; one run is tapped in on a run pad."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from functools import partial

from deploy.rehearsal.cast.people import SCOREKEEPER
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.rendering import Shown

DOOR = "Event day"
STEPS = ("Publish the list", "Draw the order", "Make the timetable", "Tell the squads")
DICE = ("2", "3", "3", "5", "6")
BEFORE = timedelta(minutes=15)
LAST_DAY = timedelta(hours=26)
SOON = timedelta(hours=24)
"""A day that begins later than this is not waited for."""
MOST_TAPS = 80


class EventDay:
    """The coach's part of the event day, played while the days of the window pass, and then until it begins."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._begins: datetime | None = None
        self._arranged = False

    async def day(self, _number: int) -> None:
        """On the last day before the deadline the coach arranges the event day."""
        deadline = datetime.fromisoformat(self._stage.facts["deadline"])
        if not self._arranged and deadline - self._stage.now <= LAST_DAY:
            self._arranged = True
            self._begins = await _arrange(self._stage)

    async def comes(self) -> None:
        """Wait until the first squads are called."""
        stage = self._stage
        if self._begins is not None and self._begins <= stage.now + SOON:
            await stage.until(self._begins - BEFORE)


async def _arrange(stage: Stage) -> datetime | None:
    """Draw, make and tell the timetable; when it begins. A plan without an event day has none of it."""
    panel = await _panel(stage)
    if panel is None or STEPS[0] not in panel.labels:
        return None
    for step in STEPS:
        if step not in panel.labels:
            break
        shown = panel
        outcome = await stage.do(partial(stage.coach.press, shown, step))
        if outcome.form is not None:
            await stage.do(partial(stage.coach.fill, outcome.form, {"The key": " ".join(DICE)}))
        elif "Tell them" in outcome.shown().labels:
            sure = outcome.shown()
            await stage.do(partial(stage.coach.press, sure, "Tell them"))
        found = await _panel(stage)
        if found is None:
            return None
        panel = found
    return await _first_run(stage, panel)


async def _panel(stage: Stage) -> Shown | None:
    office = (await stage.do(lambda: stage.coach.command("/office", room=OFFICE))).shown()
    if DOOR not in office.labels:
        return None
    return (await stage.do(partial(stage.coach.press, office, DOOR))).shown()


async def _first_run(stage: Stage, panel: Shown) -> datetime | None:
    """When the first run is, as the timetable shows it."""
    if "Timetable" not in panel.labels:
        return None
    page = await stage.do(partial(stage.coach.press, panel, "Timetable"))
    instants = [int(found) for found in re.findall(r"<t:(\d+):", page.shown().text)]
    return datetime.fromtimestamp(min(instants), UTC) if instants else None


async def tap_run(stage: Stage, card: Shown, counts: Mapping[str, int]) -> Outcome:
    """Tick who is here, start the clock, tap what is counted, and save once it was counted aloud."""
    keeper = stage.phone(SCOREKEEPER)
    here = await stage.do(partial(keeper.press, card, "Who is here"))
    await stage.do(partial(keeper.fill, here.opened(), {}))
    pad = (await stage.do(partial(keeper.press, card, "Run pad"))).shown()
    started = (await stage.do(partial(keeper.press, pad, "Start the clock"))).shown()
    if "Check the safety lines" in started.labels:
        lines = (await stage.do(partial(keeper.press, started, "Check the safety lines"))).shown()
        mine = next(label for label in lines.labels if label.startswith("Checked by me"))
        await stage.do(partial(keeper.press, lines, mine))
        started = (await stage.do(partial(keeper.press, pad, "Start the clock"))).shown()
    shown = started
    for _ in range(MOST_TAPS):
        away = next(
            (name for name, wanted in counts.items() if (_count(shown, name) or 0) != wanted),
            None,
        )
        if away is None:
            break
        more = (_count(shown, away) or 0) < counts[away]
        label = f"+1 {away}" if more else "-1"
        shown = (await stage.do(partial(keeper.press, shown, label))).shown()
    finished = (await stage.do(partial(keeper.press, shown, "Finish"))).shown()
    agreed = "Counted aloud, agreed: save"
    if agreed not in finished.labels:
        raise CastMistake(f"the count was not read back: {finished.text!r}")
    return await stage.do(partial(keeper.press, finished, agreed))


def _count(shown: Shown, name: str) -> int | None:
    found = re.search(rf"{re.escape(name)}\W+(\d+)", shown.text.partition("\n")[2])
    return int(found[1]) if found else None
