"""The event day as the coach arranges it: order drawn, timetable told, paper printed; squads swap, all begins later."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, in_room
from deploy.rehearsal.cast.stage import NEXT_PAGE, OFFICE, Stage
from deploy.rehearsal.cast.try_out_setup import office
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.rendering import Shown

DOOR = "Event day"
STEPS = ("Publish the list", "Draw the order", "Make the timetable", "Tell the squads")
DICE = ("2", "3", "3", "5", "6")
BEFORE = timedelta(minutes=15)
LAST_DAY = timedelta(hours=26)
RUN = re.compile(r"<t:(\d+):t> (\d+) .+?: .+, run \d+ at table")
SOON = timedelta(hours=24)
"""A day that begins later than this is not waited for."""
KIT, MISSING = "Paper kit", "What is missing"
LATER_MINUTES = 5
"""By so much the coach lets the whole day begin later."""


class EventDay:
    """The coach's part of the event day, played while the days of the window pass, and then until it begins."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self.times: dict[str, list[datetime]] = {}
        """When each squad, by number, runs: as the coach reads it in the timetable."""
        self._arranged = False

    async def day(self, _number: int) -> None:
        """On the last day before the deadline the coach arranges the event day."""
        deadline = datetime.fromisoformat(self._stage.facts["deadline"])
        if not self._arranged and deadline - self._stage.now <= LAST_DAY:
            self._arranged = True
            self.times = await _arrange(self._stage)

    async def comes(self) -> None:
        """Wait until the first squads are called."""
        stage = self._stage
        begins = min((at for runs in self.times.values() for at in runs), default=None)
        if begins is not None and begins <= stage.now + SOON:
            await stage.until(begins - BEFORE)

    async def print_kit(self) -> None:
        """The coach prints what the day needs if the network is down, the surprise in a file of its own."""
        panel = await _panel(self._stage)
        if panel is None or KIT not in panel.labels:
            return
        kit = await self._stage.do(lambda: self._stage.coach.press(panel, KIT))
        names = {file.name for file in kit.shown().files}
        if names != {"event-day.pdf", "sealed.pdf"} and not self._stage.rough:
            raise CastMistake(f"the paper kit has the files {sorted(names)}")

    async def what_is_missing(self) -> None:
        """When it is over the coach reads what is missing."""
        panel = await _panel(self._stage)
        if panel is not None and MISSING in panel.labels:
            await self._stage.do(lambda: self._stage.coach.press(panel, MISSING), told="What is missing")


async def _arrange(stage: Stage) -> dict[str, list[datetime]]:
    """Draw, make and tell the timetable; when each squad runs. A plan without an event day has none of it."""
    panel = await _panel(stage)
    if panel is None or STEPS[0] not in panel.labels:
        return {}
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
            return {}
        panel = found
    return await _runs(stage, panel)


async def _panel(stage: Stage) -> Shown | None:
    shown = await office(stage)
    if DOOR not in shown.labels:
        return None
    return (await stage.do(partial(stage.coach.press, shown, DOOR))).shown()


async def _runs(stage: Stage, panel: Shown) -> dict[str, list[datetime]]:
    """When each squad runs, as the pages of the timetable show it."""
    found: dict[str, list[datetime]] = {}
    if "Timetable" not in panel.labels:
        return found
    page = (await stage.do(lambda: stage.coach.press(panel, "Timetable"))).shown()
    while True:
        for at, squad in RUN.findall(page.text):
            found.setdefault(squad, []).append(datetime.fromtimestamp(int(at), UTC))
        following = next((label for label in page.labels if NEXT_PAGE.fullmatch(label)), "")
        if not following or following.startswith("Next page 1 "):
            return found
        page = (await stage.do(partial(stage.coach.press, page, following))).shown()


async def times_that_move(stage: Stage, cast: Cast) -> None:
    """The coach looks at the plan of the day, swaps two squads, lets all begin later; a student saves the times."""
    for steps in (
        ("Plan of the day", {"Why": "To see that all is right"}),
        ("Timetable", Pick("Move one of them"), Pick("Swap with")),
        ("Later", {"How many minutes": str(LATER_MINUTES)}),
        ("Calendar file",),
    ):
        await in_office(stage, DOOR, *steps)
    await in_room(stage, COACH, OFFICE, "Who is next")
    name = cast.groups[0].people[0]
    await in_room(stage, name, squad_room(stage.phone(name), cast.groups[0].name), "Calendar file")
