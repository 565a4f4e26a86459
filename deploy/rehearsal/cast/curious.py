"""The curious: people who press whatever only shows something, read it, and close the forms they do not need."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial

from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast
from deploy.rehearsal.cast.score_sheets_and_close import my_sheets
from deploy.rehearsal.cast.score_table import open_table
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, awaited
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.rendering import Button, Shown

CHANGES = (
    *("Absence", "Announce", "Attempt", "Close", "Draw", "Erase", "Everyone", "Finish", "Found"),
    *("Give it back", "I came", "It was not lost", "Keep", "Leave", "Let ", "Lost", "Make captain", "Move"),
    *("No", "Open ", "Pause", "Place in", "Propose", "Publish", "Release", "Remind", "Remove"),
    *("Reopen", "Save", "Send", "Set aside", "Sorry", "Start", "Stay", "Stop", "Take"),
    *("Undo", "Yes"),
)
"""How labels begin behind which something may change at once; the curious leave these alone."""
MOST = 40
"""Presses of one person at one time."""


@dataclass
class Curious:
    """What has been looked at so far, by what a button is and not by whom or which squad it is about."""

    stage: Stage
    cast: Cast
    seen: set[str] = field(default_factory=set)

    async def coach(self) -> None:
        """The coach looks behind every door of the office."""
        await self._look(COACH, await self.stage.do(lambda: self.stage.coach.command("/office", room=OFFICE)))

    async def judge_panel(self) -> None:
        """The coach looks at everything about the judges, and then at the result so far."""
        for line in ("/judges", "/results"):
            await self._look(COACH, await self.stage.do(partial(self.stage.coach.command, line, room=OFFICE)))

    async def student(self) -> None:
        """A student tries what stands on the own page."""
        name = self.cast.groups[-2].people[0]
        phone = self.stage.phone(name)
        await self._look(name, await self.stage.do(lambda: phone.command("/my-squad", room=NEWS)))

    async def judge(self) -> None:
        """A judge looks at everything beside the sheets."""
        name = self.cast.judges[0]
        await self._look(name, Outcome("message", await awaited(self.stage, partial(my_sheets, self.stage, name))))

    async def scorekeeper(self) -> None:
        """The scorekeeper tries the table before the first squad comes."""
        await self._look(SCOREKEEPER, Outcome("message", await open_table(self.stage)))

    async def _look(self, name: str, first: Outcome) -> None:
        """Press on from answer to answer, each kind of button once; a form is read and closed."""
        if self.stage.rough:
            return
        phone, pressed = self.stage.phone(name), 0
        waiting = [first.message] if first.message is not None else []
        while waiting and pressed < MOST:
            shown = waiting.pop(0)
            for button in _harmless(shown):
                kind = f"{name} {button.custom_id.split(':', 1)[0]}"
                if kind in self.seen:
                    continue
                self.seen.add(kind)
                pressed += 1
                try:
                    outcome = await self.stage.do(partial(phone.press, shown, button))
                except CastMistake:
                    # The answer before has been replaced by this one: what stood there is gone.
                    continue
                if outcome.message is not None:
                    waiting.append(outcome.message)


def _harmless(shown: Shown) -> list[Button]:
    """The buttons that only show something, as far as their labels and looks tell."""
    return [
        button
        for button in shown.buttons
        if not (button.disabled or button.url or button.style in ("danger", "success"))
        and not button.label.startswith(CHANGES)
    ]
