"""Walking through the bot's answers: presses, choices and forms, each under what the one before brought."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.stage import OFFICE, Stage
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.rendering import Button, Option, Select, Shown

Visit = Callable[[Stage, Cast], Awaitable[None]]


@dataclass(frozen=True)
class Pick:
    """A choice in the select whose words begin so: options with these words (or of this value), or the first one."""

    select: str
    wanted: tuple[str, ...] = ()
    nothing: bool = False
    """Whether nothing at all is chosen."""


Step = str | Pick | Mapping[str, Any]
"""The beginning of a button's label, a choice, or what is typed into a form by the beginnings of its labels."""


async def pay(stage: Stage, cast: Cast, *visits: Visit) -> None:
    """Pay these visits one after the other; with injected faults nobody has the leisure."""
    if not stage.rough:
        for visit in visits:
            await visit(stage, cast)


async def walk(stage: Stage, name: str, first: Shown | Outcome, *steps: Step) -> Outcome:
    """Take the steps and return what the last one brought; raises `CastMistake` where one cannot be taken."""
    outcome = first if isinstance(first, Outcome) else Outcome("message", first)
    for step in steps:
        if isinstance(step, str):
            shown = outcome.shown()
            outcome = await stage.do(partial(stage.phone(name).press, shown, _button(shown, step)))
        elif isinstance(step, Pick):
            shown = outcome.shown()
            outcome = await stage.do(partial(stage.phone(name).choose, shown, *_choice(shown, step)))
        else:
            form = outcome.opened()
            values = {
                field.label: step[label] for field in form.fields for label in step if field.label.startswith(label)
            }
            if len(values) != len(step):
                raise CastMistake(f"{form.title!r} asks for {[field.label for field in form.fields]}, not {list(step)}")
            outcome = await stage.do(partial(stage.phone(name).fill, form, values))
    return outcome


async def in_office(stage: Stage, *steps: Step, line: str = "/office") -> Outcome:
    """The coach opens the office, or what another command opens there, and walks on."""
    return await walk(stage, COACH, await stage.do(partial(stage.coach.command, line, room=OFFICE)), *steps)


async def in_room(stage: Stage, name: str, room: str, label: str, *steps: Step) -> Outcome:
    """Somebody presses the newest button of this label in a room, and walks on."""
    phone = stage.phone(name)
    return await walk(stage, name, phone.with_button(room, re.compile(re.escape(label) + ".*")), label, *steps)


def _button(shown: Shown, label: str) -> Button:
    there = [button for button in shown.buttons if not button.disabled and not button.url]
    found = [button for button in there if button.label == label]
    found += [button for button in there if button.label.startswith(label)]
    if not found:
        raise CastMistake(f"no button {label!r} under {shown.text[:300]!r}; there are {shown.labels}")
    return found[0]


def _choice(shown: Shown, pick: Pick) -> tuple[str, list[Any]]:
    """The words of the select, and the options or names to choose in it."""
    select = next((one for one in shown.selects if one.placeholder.startswith(pick.select)), None)
    if select is None:
        there = [one.placeholder for one in shown.selects]
        raise CastMistake(f"no choice {pick.select!r} under {shown.text[:300]!r}; there are {there}")
    if not select.options:
        return select.placeholder, list(pick.wanted)
    found = [_option(select, part) for part in pick.wanted]
    return select.placeholder, [] if pick.nothing else found or list(select.options[:1])


def _option(select: Select, part: str) -> Option:
    for option in select.options:
        if part in option.label or part == option.value:
            return option
    raise CastMistake(f"no option {part!r}; there are {[option.label for option in select.options]}")
