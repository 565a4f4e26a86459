"""The event days at the table: attempts are recorded, one slips and is undone, a stopwatch runs."""

from __future__ import annotations

import re
from functools import partial
from random import Random

from deploy.rehearsal.cast.people import SCOREKEEPER, Cast
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.forms import Field, Form
from deploy.rehearsal.wire.rendering import Shown

MEASURES, SQUADS = "What is measured?", "Which squad is at the table?"
PLACE = NEWS
"""Where the scorekeeper stands; the answers are private wherever it is."""


async def play(stage: Stage, cast: Cast) -> None:
    """Record every attempt of every squad at every measure of the table."""
    measures = await _menu(stage, MEASURES)
    lists: dict[str, Shown] = {}
    if not measures:
        raise CastMistake("there is nothing to measure at the table")
    for number, measure in enumerate(measures):
        squads = await _squads(stage, measure)
        tries = 1
        while tries:
            following = 0
            for place, squad in enumerate(squads):
                await stage.wait(minutes=stage.random.randint(2, 6))
                slip = (number, place, tries) == (0, 1, 1)
                more = await _attempt(stage, cast, lists, measure, squad, slip=slip)
                following += more
            tries = tries + 1 if following else 0


async def record_some(stage: Stage, cast: Cast, most: int) -> int:
    """Record so many attempts that are not recorded yet, at most; returns how many there were."""
    recorded = 0
    for measure in await _menu(stage, MEASURES):
        for squad in await _squads(stage, measure):
            before, more = stage.attempts, True
            while more and recorded < most:
                more = await _attempt(stage, cast, {}, measure, squad, slip=False)
                recorded += stage.attempts - before
                before = stage.attempts
            if recorded >= most:
                return recorded
    return recorded


async def open_table(stage: Stage) -> Shown:
    """The scorekeeper opens the table: under *My squad*, where a helper has what helpers do."""
    keeper = stage.phone(SCOREKEEPER)
    doors = (await stage.do(lambda: keeper.command("/my-squad", room=PLACE))).shown()
    return (await stage.do(lambda: keeper.press(doors, "Table"))).shown()


async def _menu(stage: Stage, placeholder: str) -> list[str]:
    shown = await open_table(stage)
    return [option.label for select in shown.selects if select.placeholder == placeholder for option in select.options]


async def _list(stage: Stage, measure: str) -> Shown:
    keeper, shown = stage.phone(SCOREKEEPER), await open_table(stage)
    return (await stage.do(lambda: keeper.choose(shown, MEASURES, measure))).shown()


async def _squads(stage: Stage, measure: str) -> list[str]:
    shown = await _list(stage, measure)
    return [option.label for select in shown.selects if select.placeholder == SQUADS for option in select.options]


async def _attempt(stage: Stage, cast: Cast, lists: dict[str, Shown], measure: str, squad: str, *, slip: bool) -> bool:
    """Record the next attempt of a squad, read it back, save it; whether the squad has another one."""
    keeper = stage.phone(SCOREKEEPER)
    listed = await _list(stage, measure)
    card = (await stage.do(lambda: keeper.choose(listed, SQUADS, squad))).shown()
    enter = next((label for label in card.labels if label.startswith("Enter") and "run-off" not in label), None)
    if enter is None:
        return False
    opened = (await stage.do(lambda: keeper.press(card, enter))).opened()
    typed = _typed(stage, cast, opened, enter)
    if slip:
        typed |= {name: f"{value}0" for name, value in typed.items() if value.isdigit() and name != "Points off"}
    asked = await stage.do(lambda: keeper.fill(opened, typed))
    if slip and "Change" in asked.shown().labels:
        again = (await stage.do(lambda: keeper.press(asked.shown(), "Change"))).opened()
        typed = _typed(stage, cast, again, enter)
        asked = await stage.do(lambda: keeper.fill(again, typed))
    saved = await stage.do(lambda: keeper.press(asked.shown(), "Save"))
    stage.attempts += 1
    if "Saved" in saved.text:
        stage.acknowledged += 1
        value = saved.text.split("\n")[1]
        look = partial(_stands, stage, lists, measure, squad, value)
        stage.remember(SCOREKEEPER, f"{enter} of {squad} at {measure}", look)
    elif not stage.rough:
        raise CastMistake(f"not saved: {saved.text!r}")
    used = re.search(r"attempt (\d+) of (\d+)", enter)
    return used is not None and int(used[1]) < int(used[2])


async def _stands(stage: Stage, lists: dict[str, Shown], measure: str, squad: str, value: str) -> bool:
    """Whether a saved value can still be seen; one list a measure, kept in `lists`, is enough for all squads."""
    if measure not in lists:
        lists[measure] = await _list(stage, measure)
    keeper, listed = stage.phone(SCOREKEEPER), lists[measure]
    return value in (await stage.do(lambda: keeper.choose(listed, SQUADS, squad))).text


def _typed(stage: Stage, cast: Cast, form: Form, about: str) -> dict[str, str]:
    """What the scorekeeper types, by how good the squad is; every squad has its own skill."""
    skill = cast.skill(form.title)
    return {field.label: _value(stage.chance(form.title, about, field.label), field, skill) for field in form.fields}


def _value(chance: Random, field: Field, skill: float) -> str:
    if field.label == "Time":
        seconds = round(420 - 300 * skill + chance.uniform(-40, 40), 1)
        return f"{int(seconds // 60)}:{seconds % 60:04.1f}"
    if field.label == "Faults":
        return str(chance.randint(0, 3))
    if field.label == "Points off":
        return "0"
    if field.options:
        return field.options[0].label
    of = re.search(r"Of the squad's (\d+)", field.description)
    if of is not None and field.value:
        # What the hand-in says is proposed, and the scorekeeper has counted the same.
        return field.value
    if of is not None:
        members = int(of[1])
        return str(members if chance.random() < 0.6 + 0.4 * skill else members - 1)
    return str(max(0, min(10, round(3 + 6 * skill + chance.gauss(0, 1)))))
