"""The counted runs on run pads: two scorekeepers at two tables, by the board; a run again, one typed in afterwards."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial

from deploy.rehearsal.cast import attempt_entry, safety, score_table
from deploy.rehearsal.cast.day_board import Line, board_of, on_at, open_squad
from deploy.rehearsal.cast.no_show import NoShow
from deploy.rehearsal.cast.people import SCOREKEEPER, SECOND_SCOREKEEPER, Cast
from deploy.rehearsal.cast.presence import Presence
from deploy.rehearsal.cast.press_sequence import walk
from deploy.rehearsal.cast.stage import UNHEARD, Stage
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome, together
from deploy.rehearsal.wire.rendering import Shown

PAD = "Run pad"
OURS = "Our fault: run again"
AGREED = "Counted aloud, agreed: save"
EARLY = timedelta(minutes=3)
TYPED_RUN = (1, 1)
"""Which run is typed in afterwards and not tapped: at this table, and after so many runs there."""
MOST_LOOKS = 12
"""So often a count is put right before the cast gives up; without faults it is right at once."""


@dataclass
class RunPads:
    """The counted runs, from the first squad on the board to the last."""

    stage: Stage
    cast: Cast
    times: Mapping[str, list[datetime]]
    """When each squad, by number, runs."""
    rerun: bool = False
    """Whether a run was interrupted and begun again."""
    lists: dict[str, Shown] = field(default_factory=dict)
    """For looking later whether what was saved stands, one list is enough."""

    async def play(self) -> list[str]:
        """Play every run of the timetable; returns what was counted, so that nobody records it again."""
        keepers = (SCOREKEEPER, SECOND_SCOREKEEPER)
        lines = [Line(name, self.stage.phone(name), table) for table, name in enumerate(keepers, start=1)]
        absent, presence = NoShow(self.stage), Presence(self.stage)
        first = await board_of(self.stage, lines[1])
        if len(on_at(first)) < len(lines):
            return []
        await absent.not_here(lines[1], first)
        for line in lines:
            line.card = await open_squad(self.stage, line, await board_of(self.stage, line))
        measure = await self._measure()
        while present := [line for line in lines if line.card is not None]:
            await absent.still_not_here(lines[1])
            await self.stage.until(min(self._due(line) for line in present))
            for line in present:
                await presence.tick(line)
                if (line.table, line.runs) == TYPED_RUN:
                    await self._typed(line, measure)
                else:
                    await self._prepare(line)
            present = [line for line in present if line.pad is not None]
            await self._tap(present)
            if not self.rerun and len(present) > 1:
                await self._interrupted(present[0])
                await self._tap(present)
            for line in present:
                await self._finish(line, measure)
            await self.stage.wait(minutes=self.stage.random.randint(1, 3))
        return [measure]

    def _due(self, line: Line) -> datetime:
        """A little before the time of the next run of the squad at a table."""
        made = line.there.text.count("\n- Attempt ")
        runs = self.times.get(line.number, [])[made:]
        return runs[0] - EARLY if runs else self.stage.now

    async def _measure(self) -> str:
        """What is counted, as the table calls it: the first of all."""
        return (await score_table.measures(self.stage))[0]

    async def _prepare(self, line: Line) -> None:
        """Open the pad and start the clock; before the first start of a day somebody checks the safety lines."""
        card = line.there
        enter = next(label for label in card.labels if label.startswith("Enter attempt"))
        line.pad = (await self.stage.do(lambda: line.phone.press(card, PAD))).shown()
        item = next(label for label in line.pad.labels if label.startswith("+1 ")).removeprefix("+1 ")
        line.wanted = attempt_entry.counted(self.stage, self.cast, line.squad, enter, item)
        await safety.stopped(self.stage, line)
        await safety.start_clock(self.stage, line)

    async def _tap(self, lines: list[Line]) -> None:
        """Tap until every pad shows what was counted; both scorekeepers at once."""
        for _ in range(100):
            acts = [(line, _next_tap(line)) for line in lines]
            wanted = [(line, label) for line, label in acts if label is not None]
            if not wanted:
                return
            await self.stage.moment()
            outcomes = await together(*(line.phone.press(line.at, label) for line, label in wanted))
            for (line, _), outcome in zip(wanted, outcomes, strict=True):
                line.pad = await self._after(line, outcome)
        raise CastMistake("the pads never showed what was counted")

    async def _after(self, line: Line, outcome: Outcome) -> Shown:
        """The pad after a tap; whoever got no answer looks at it again before tapping on."""
        if outcome.message is not None and not outcome.failed and _count(outcome.message) is not None:
            return outcome.message
        self.stage.retries[UNHEARD] += 1
        return (await self.stage.do(lambda: line.phone.press(line.at, "Refresh"))).shown()

    async def _interrupted(self, line: Line) -> None:
        """The light went out: the squad runs again, and nothing of this run counts."""
        self.rerun = True
        if not self.stage.rough:
            await walk(self.stage, line.name, line.at, "+1 ", "Undo my last", "Refresh", OURS, "Back to the pad")
        sure = (await self.stage.do(lambda: line.phone.press(line.at, OURS))).shown()
        line.pad = (await self.stage.do(lambda: line.phone.press(sure, "Ours: run again"))).shown()
        if _count(line.pad) is None:
            # Pressed again because no answer had come: the run was over by then.
            line.pad = (await self.stage.do(lambda: line.phone.press(line.there, PAD))).shown()
        await safety.start_clock(self.stage, line)

    async def _typed(self, line: Line, measure: str) -> None:
        """One run is typed in afterwards, with a slip that is seen and changed."""
        card = line.there
        enter = next(label for label in card.labels if label.startswith("Enter attempt"))
        saved = await score_table.by_form(self.stage, self.cast, card, enter, slip=True)
        await self._saved(line, saved, measure)

    async def _finish(self, line: Line, measure: str) -> None:
        """Read back, count aloud, save; and on to the next squad of the table."""
        finished = (await self.stage.do(lambda: line.phone.press(line.at, "Finish"))).shown()
        for _ in range(MOST_LOOKS):
            if re.search(rf"\n{line.wanted} \w+ x ", finished.text):
                break
            line.pad = (await self.stage.do(partial(line.phone.press, finished, "Back to the pad"))).shown()
            await self._tap([line])
            finished = (await self.stage.do(lambda: line.phone.press(line.at, "Finish"))).shown()
        saved = await self.stage.do(partial(line.phone.press, finished, AGREED))
        await self._saved(line, saved, measure)

    async def _saved(self, line: Line, saved: Outcome, measure: str) -> None:
        """It is on record; on to the squad that is next at this table."""
        self.stage.attempts += 1
        line.runs += 1
        line.pad = None
        await self._remember(line, saved, measure)
        onward = next((label for label in saved.shown().labels if label.startswith(("Next: ", "Attempt "))), None)
        if onward is not None:
            line.card = (await self.stage.do(partial(line.phone.press, saved.shown(), onward))).shown()
        else:
            line.card = await open_squad(self.stage, line, await board_of(self.stage, line))

    async def _remember(self, line: Line, saved: Outcome, measure: str) -> None:
        if "Saved" not in saved.text:
            if not self.stage.rough:
                raise CastMistake(f"not saved: {saved.text!r}")
            return
        self.stage.acknowledged += 1
        squad, kept = line.squad, saved.text.split("\n")[1]
        look = partial(score_table.stands, self.stage, self.lists, measure, squad, kept)
        self.stage.remember(SCOREKEEPER, f"a run of {squad}", look)


def _count(pad: Shown) -> int | None:
    """What a pad with one kind of thing shows; None where this is no pad."""
    found = re.search(r"\*\*(\d+)\*\*", pad.text.partition("\n")[2].partition("\n")[0])
    return int(found[1]) if found else None


def _next_tap(line: Line) -> str | None:
    count = _count(line.at)
    if count is None or count == line.wanted:
        return None
    return "-1" if count > line.wanted else next(label for label in line.at.labels if label.startswith("+1 "))
