"""Runs of three squads that were written on paper, with no network at the table: typed in afterwards, by two people."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast import attempt_entry, score_table
from deploy.rehearsal.cast.people import SCOREKEEPER, TYPIST, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, walk
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.rendering import Shown

ON_PAPER = (2, 3, -1)
"""Which squads of the list ran while there was no network."""
SETTLE, ANEW = "Settle it", "Type both again"
WAYS = ("", SETTLE, ANEW)
"""What becomes of each sheet: the first one is typed alike twice, the others differ."""
SLIP = {"Faults": "4"}
"""A number that was read wrongly; on the paper there are three faults at most."""
AGAIN = "Again: "
AGREE, SETTLED = "Both entries agree", "Settled from the paper"


async def typed_in(stage: Stage, cast: Cast) -> None:
    """The typist types all of them, then a scorekeeper; what differs is settled from the paper, or typed anew."""
    for measure in await score_table.measures(stage):
        there = await score_table.squads_at(stage, measure)
        squads = [there[place] for place in ON_PAPER]
        card = await _card(stage, measure, squads[0])
        if "Stopwatch" in card.labels:
            await _Sheets(stage, cast, measure, score_table.enter_label(card)).type_in(squads)
            return


async def _card(stage: Stage, measure: str, squad: str) -> Shown:
    listed = await score_table.squad_list(stage, measure)
    return (await walk(stage, SCOREKEEPER, listed, Pick(score_table.SQUADS, (squad,)))).shown()


class _Sheets:
    """The run sheets of one measure, as they stand on paper."""

    def __init__(self, stage: Stage, cast: Cast, measure: str, enter: str) -> None:
        self._stage, self._cast, self._measure, self._enter = stage, cast, measure, enter
        self._lists: dict[str, Shown] = {}

    async def type_in(self, squads: list[str]) -> None:
        """Type in all sheets twice; the second time the differences are seen."""
        ways = dict(zip(squads, WAYS, strict=False))
        at = await self._sheets(TYPIST, "Paper", "Type in run sheets")
        for squad, way in ways.items():
            at = await self._type(TYPIST, at, squad, slip=bool(way))
        at = await self._sheets(SCOREKEEPER, "Table", "Paper sheets")
        for squad, way in ways.items():
            at = await self._type(SCOREKEEPER, at, squad)
            if way == SETTLE:
                at = await self._fill(SCOREKEEPER, await walk(self._stage, SCOREKEEPER, at, SETTLE))
            elif way == ANEW:
                at = await self._fill(SCOREKEEPER, await walk(self._stage, SCOREKEEPER, at, ANEW, "Type it in"))
                at = await self._type(TYPIST, await self._sheets(TYPIST, "Paper", "Type in run sheets"), squad)
            self._kept(at, squad)

    async def _sheets(self, name: str, *steps: Step) -> Outcome:
        """Somebody opens the list of the squads whose sheets are missing."""
        phone = self._stage.phone(name)
        doors = await self._stage.do(partial(phone.command, "/my-squad", room=NEWS))
        return await walk(self._stage, name, doors, *steps, Pick("What is on the sheet?", (self._measure,)))

    async def _type(self, name: str, at: Outcome, squad: str, *, slip: bool = False) -> Outcome:
        """Pick the squad on the paper, and type the sheet; from a sheet that is done on to the next one."""
        steps = ("Next run sheet",) if "Next run sheet" in at.shown().labels else ()
        opened = await walk(self._stage, name, at, *steps, Pick("Which squad stands on the sheet?", (squad,)), "Type ")
        return await self._fill(name, opened, slip=slip)

    async def _fill(self, name: str, opened: Outcome, *, slip: bool = False) -> Outcome:
        form = opened.opened()
        title = form.title.removeprefix(AGAIN).removeprefix("As on the paper: ")
        typed = attempt_entry.typed_values(self._stage, self._cast, form, self._enter, title)
        return await self._stage.do(partial(self._stage.phone(name).fill, form, typed | (SLIP if slip else {})))

    def _kept(self, at: Outcome, squad: str) -> None:
        """It is on record, and is looked for later."""
        if not at.text.startswith((AGREE, SETTLED)):
            raise CastMistake(f"the sheet of {squad} is not on record: {at.text!r}")
        self._stage.attempts += 1
        self._stage.acknowledged += 1
        kept = at.text.split("\n")[1].rstrip(".")
        look = partial(score_table.stands, self._stage, self._lists, self._measure, squad, kept)
        self._stage.remember(SCOREKEEPER, f"the run of {squad} from paper", look)
