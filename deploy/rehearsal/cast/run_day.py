"""The counted runs of the event day: two scorekeepers at two tables, by the board, with whatever can happen."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import partial

from deploy.rehearsal.cast import score_table
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, SECOND_SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import in_room, walk
from deploy.rehearsal.cast.stage import OFFICE, UNHEARD, Stage, awaited
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome, together
from deploy.rehearsal.wire.rendering import Button, Shown

BOARD, PAD, HERE = "Who is next", "Run pad", "Who is here"
ON = re.compile(r"\*\*Table (\d+)\*\*: \*\*on\*\* (\d+) ")
TIME = r"\*\*Table {table}\*\*: \*\*on\*\* .*?<t:(\d+):t>"
"""When the squad is to run that is on at a table."""
OURS = "Our fault: run again"
AGREED = "Counted aloud, agreed: save"
LEFT_OUT = "was not here again"
EARLY = timedelta(minutes=3)
MOST_LOOKS = 12
"""So often a count is put right before the cast gives up; without faults it is right at once."""


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


@dataclass
class RunDay:
    """The counted runs, from the first squad on the board to the last."""

    stage: Stage
    cast: Cast
    times: Mapping[str, list[datetime]]
    """When each squad, by number, runs."""
    seen: set[str] = field(default_factory=set)
    """Squads whose members have been ticked."""
    late: set[str] = field(default_factory=set)
    """Squads of which somebody was still missing then."""
    happened: set[str] = field(default_factory=set)
    gone: str = ""
    """The number of the squad that is not there when it is called."""
    lists: dict[str, Shown] = field(default_factory=dict)
    """For looking later whether what was saved stands, one list is enough."""

    async def play(self) -> list[str]:
        """Play every run of the timetable; returns what was counted, so that nobody records it again."""
        keepers = (SCOREKEEPER, SECOND_SCOREKEEPER)
        lines = [Line(name, self.stage.phone(name), table) for table, name in enumerate(keepers, start=1)]
        first = await self._board(lines[1])
        if len(ON.findall(first.text)) < len(lines):
            return []
        await self._not_here(lines[1], first)
        for line in lines:
            line.card = await self._open(line, await self._board(line))
        measure = await self._measure()
        while present := [line for line in lines if line.card is not None]:
            await self._still_not_here(lines[1])
            await self.stage.until(min(self._due(line) for line in present))
            for line in present:
                await self._tick(line)
                if line.table == 1 and line.runs == 1:
                    await self._typed(line, measure)
                else:
                    await self._prepare(line)
            present = [line for line in present if line.pad is not None]
            await self._tap(present)
            if "rerun" not in self.happened and len(present) > 1:
                await self._interrupted(present[0])
                await self._tap(present)
            for line in present:
                await self._finish(line, measure)
            await self.stage.wait(minutes=self.stage.random.randint(1, 3))
        return [measure]

    def _due(self, line: Line) -> datetime:
        """A little before the time of the next run of the squad at a table."""
        number = _number(_card(line))
        made = _card(line).text.count("\n- Attempt ")
        runs = self.times.get(number, [])[made:]
        return runs[0] - EARLY if runs else self.stage.now

    async def _board(self, line: Line) -> Shown:
        opened = await score_table.open_table(self.stage, line.name)
        return (await self.stage.do(lambda: line.phone.press(opened, BOARD))).shown()

    async def _measure(self) -> str:
        """What is counted, as the table calls it: the first of all."""
        return (await score_table.measures(self.stage))[0]

    async def _open(self, line: Line, board: Shown) -> Shown | None:
        """Open the squad that is on at a table; None when nobody is."""
        on = dict(ON.findall(board.text)).get(str(line.table))
        label = next((one for one in board.labels if on is not None and one.startswith(f"Open {on} ")), None)
        if label is None:
            return None
        return (await self.stage.do(lambda: line.phone.press(board, label))).shown()

    async def _not_here(self, line: Line, board: Shown) -> None:
        """The first squad of a table has not come when its time is there: it runs last."""
        due = re.search(TIME.format(table=line.table), board.text)
        assert due is not None
        await self.stage.until(datetime.fromtimestamp(int(due[1]), UTC))
        self.gone = dict(ON.findall(board.text))[str(line.table)]
        place = next(at for at, one in enumerate(board.buttons) if one.label.startswith(f"Open {self.gone} "))
        gone: Button = board.buttons[place + 1]
        sure = (await self.stage.do(lambda: line.phone.press(board, gone))).shown()
        outcome = await self.stage.do(lambda: line.phone.press(sure, "It is not here"), told="was not here")
        if LEFT_OUT in outcome.text:
            self.happened.add(LEFT_OUT)

    async def _still_not_here(self, line: Line) -> None:
        """The squad that was sent to the end has not come yet; the second time the coach lets it run after all others.

        Then it is there.
        """
        while line.card is not None and _number(line.card) == self.gone and LEFT_OUT not in self.happened:
            if self.stage.rough:
                return
            await self._not_here(line, await self._board(line))
            if LEFT_OUT in self.happened:
                await in_room(self.stage, COACH, OFFICE, "Let it run at the end")
            line.card = await self._open(line, await self._board(line))

    async def _tick(self, line: Line) -> None:
        """Tick who is here before the first run; of one squad somebody comes late."""
        card, squad = _card(line), _squad(_card(line))
        if squad in self.seen and squad not in self.late:
            return
        opened = (await self.stage.do(lambda: line.phone.press(card, HERE))).opened()
        roster = opened.fields[0]
        chosen = [option.label for option in roster.options]
        if squad not in self.seen and not self.late and len(chosen) > 3 and "late" not in self.happened:
            self.late.add(squad)
            self.happened.add("late")
            chosen = chosen[:-1]
        else:
            self.late.discard(squad)
        self.seen.add(squad)
        line.card = (await self.stage.do(lambda: line.phone.fill(opened, {roster.label: chosen}))).shown()

    async def _prepare(self, line: Line) -> None:
        """Open the pad and start the clock; before the first start of a day somebody checks the safety lines."""
        card = _card(line)
        enter = next(label for label in card.labels if label.startswith("Enter attempt"))
        line.pad = (await self.stage.do(lambda: line.phone.press(card, PAD))).shown()
        item = next(label for label in line.pad.labels if label.startswith("+1 ")).removeprefix("+1 ")
        line.wanted = score_table.counted(self.stage, self.cast, _squad(card), enter, item)
        if line.table == 2 and line.runs == 1:
            await self._stop(line)
        await self._start(line)

    async def _start(self, line: Line) -> None:
        started = (await self.stage.do(lambda: line.phone.press(line.at, "Start the clock"))).shown()
        if "Check the safety lines" in started.labels:
            lines = (await self.stage.do(lambda: line.phone.press(started, "Check the safety lines"))).shown()
            mine = next(label for label in lines.labels if label.startswith("Checked by me"))
            await self.stage.do(lambda: line.phone.press(lines, mine))
            started = (await self.stage.do(lambda: line.phone.press(line.at, "Start the clock"))).shown()
        line.pad = started

    async def _stop(self, line: Line) -> None:
        """Something lies in the way: everything stops, and the coach lets it go on."""
        form = (await self.stage.do(lambda: line.phone.press(line.at, "STOP: danger"))).opened()
        await self.stage.do(lambda: line.phone.fill(form, {"Why do you stop?": "A cable lies across the way."}))
        coach, on = self.stage.coach, "Let it go on"
        told = await awaited(self.stage, lambda: coach.with_button(OFFICE, on))
        await self.stage.wait(minutes=4)
        await self.stage.do(lambda: coach.press(told, on))

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
        self.happened.add("rerun")
        if not self.stage.rough:
            await walk(self.stage, line.name, line.at, "+1 ", "Undo my last", "Refresh", OURS, "Back to the pad")
        sure = (await self.stage.do(lambda: line.phone.press(line.at, OURS))).shown()
        line.pad = (await self.stage.do(lambda: line.phone.press(sure, "Ours: run again"))).shown()
        if _count(line.pad) is None:
            # Pressed again because no answer had come: the run was over by then.
            line.pad = (await self.stage.do(lambda: line.phone.press(_card(line), PAD))).shown()
        await self._start(line)

    async def _typed(self, line: Line, measure: str) -> None:
        """One run is typed in afterwards, with a slip that is seen and changed."""
        card = _card(line)
        enter = next(label for label in card.labels if label.startswith("Enter attempt"))
        saved = await score_table.by_form(self.stage, self.cast, card, enter, slip=True)
        await self._saved(line, card, saved, measure)

    async def _finish(self, line: Line, measure: str) -> None:
        """Read back, count aloud, save; and on to the next squad of the table."""
        card = _card(line)
        finished = (await self.stage.do(lambda: line.phone.press(line.at, "Finish"))).shown()
        for _ in range(MOST_LOOKS):
            if re.search(rf"\n{line.wanted} \w+ x ", finished.text):
                break
            line.pad = (await self.stage.do(partial(line.phone.press, finished, "Back to the pad"))).shown()
            await self._tap([line])
            finished = (await self.stage.do(lambda: line.phone.press(line.at, "Finish"))).shown()
        saved = await self.stage.do(partial(line.phone.press, finished, AGREED))
        await self._saved(line, card, saved, measure)

    async def _saved(self, line: Line, card: Shown, saved: Outcome, measure: str) -> None:
        """It is on record; on to the squad that is next at this table."""
        self.stage.attempts += 1
        line.runs += 1
        line.pad = None
        await self._remember(line, card, saved, measure)
        onward = next((label for label in saved.shown().labels if label.startswith(("Next: ", "Attempt "))), None)
        if onward is not None:
            line.card = (await self.stage.do(partial(line.phone.press, saved.shown(), onward))).shown()
        else:
            line.card = await self._open(line, await self._board(line))

    async def _remember(self, line: Line, card: Shown, saved: Outcome, measure: str) -> None:
        if "Saved" not in saved.text:
            if not self.stage.rough:
                raise CastMistake(f"not saved: {saved.text!r}")
            return
        self.stage.acknowledged += 1
        squad, kept = _squad(card), saved.text.split("\n")[1]
        look = partial(score_table.stands, self.stage, self.lists, measure, squad, kept)
        self.stage.remember(SCOREKEEPER, f"a run of {squad}", look)


def _card(line: Line) -> Shown:
    assert line.card is not None
    return line.card


def _number(card: Shown) -> str:
    return _squad(card).partition(" ")[0]


def _squad(card: Shown) -> str:
    """Number and name of the squad on a card."""
    found = re.match(r"\*\*(\d+ .+?)\*\*: ", card.text)
    if found is None:
        raise CastMistake(f"no squad stands on {card.text!r}")
    return found[1].replace("\\", "")


def _count(pad: Shown) -> int | None:
    """What a pad with one kind of thing shows; None where this is no pad."""
    found = re.search(r"\*\*(\d+)\*\*", pad.text.partition("\n")[2].partition("\n")[0])
    return int(found[1]) if found else None


def _next_tap(line: Line) -> str | None:
    count = _count(line.at)
    if count is None or count == line.wanted:
        return None
    return "-1" if count > line.wanted else next(label for label in line.at.labels if label.startswith("+1 "))
