"""The event days at the table: attempts are recorded, one slips and is undone, a stopwatch runs."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import partial
from random import Random

from deploy.rehearsal.cast.people import SCOREKEEPER, Cast
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.form_answers import named
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.forms import Field, Form
from deploy.rehearsal.wire.rendering import Option, Shown

MEASURES, SQUADS = "What is measured?", "Which squad is at the table?"
ONLY = ""
"""What stands for the one thing that is measured, where the table does not ask which."""
PLACE = NEWS
"""Where the scorekeeper stands; the answers are private wherever it is."""


async def play(stage: Stage, cast: Cast, counted: Collection[str] = ()) -> None:
    """Record every attempt of every squad at every measure of the table, without those that were counted before."""
    there = await measures(stage)
    lists: dict[str, Shown] = {}
    if not there:
        raise CastMistake("there is nothing to measure at the table")
    for number, measure in enumerate(one for one in there if one not in counted):
        squads = await squads_at(stage, measure)
        tries = 1
        while tries:
            following = 0
            for place, squad in enumerate(squads):
                await stage.wait(minutes=stage.random.randint(2, 6))
                slip = not counted and (number, place, tries) == (0, 1, 1)
                following += await attempt(stage, cast, lists, measure, squad, slip=slip)
            tries = tries + 1 if following else 0


async def record_some(stage: Stage, cast: Cast, most: int, done: set[str]) -> bool:
    """Record so many attempts at most; `done` names what needs none any more. Returns whether nothing is left."""
    recorded = 0
    for measure in await measures(stage):
        if f"table {measure}" in done:
            continue
        listed = await squad_list(stage, measure)
        for squad in _squads(listed):
            while f"table {measure} {squad}" not in done:
                if recorded >= most:
                    return False
                before = stage.attempts
                if not await attempt(stage, cast, {}, measure, squad, slip=False, listed=listed):
                    done.add(f"table {measure} {squad}")
                recorded += stage.attempts - before
        done.add(f"table {measure}")
    return True


async def open_table(stage: Stage, name: str = SCOREKEEPER) -> Shown:
    """A scorekeeper opens the table: under *My squad*, where a helper has what helpers do."""
    keeper = stage.phone(name)
    doors = (await stage.do(lambda: keeper.command("/my-squad", room=PLACE))).shown()
    return (await stage.do(lambda: keeper.press(doors, "Table"))).shown()


async def measures(stage: Stage) -> list[str]:
    """What is measured; one nameless thing where there is nothing to choose from."""
    shown = await open_table(stage)
    menus = {select.placeholder: [option.label for option in select.options] for select in shown.selects}
    return menus.get(MEASURES) or ([ONLY] if SQUADS in menus else [])


async def squad_list(stage: Stage, measure: str) -> Shown:
    """The list from which the squad at the table is chosen, for one thing that is measured."""
    keeper, shown = stage.phone(SCOREKEEPER), await open_table(stage)
    if measure == ONLY:
        return shown
    return (await stage.do(lambda: keeper.choose(shown, MEASURES, measure))).shown()


async def squads_at(stage: Stage, measure: str) -> list[str]:
    """The squads from which one is chosen at the table, for one thing that is measured."""
    return _squads(await squad_list(stage, measure))


def _squads(shown: Shown) -> list[str]:
    return [option.label for select in shown.selects if select.placeholder == SQUADS for option in select.options]


async def attempt(
    stage: Stage,
    cast: Cast,
    lists: dict[str, Shown],
    measure: str,
    squad: str,
    *,
    slip: bool,
    listed: Shown | None = None,
) -> bool:
    """Record the next attempt of a squad, read it back, save it; whether the squad has another one.

    The squad is chosen in `listed`, where that list is still on the screen.
    """
    keeper = stage.phone(SCOREKEEPER)
    listed = listed or await squad_list(stage, measure)
    card = (await stage.do(lambda: keeper.choose(listed, SQUADS, squad))).shown()
    enter = enter_label(card)
    if not enter:
        return False
    saved = await by_form(stage, cast, card, enter, slip=slip)
    stage.attempts += 1
    if "Saved" in saved.text:
        stage.acknowledged += 1
        kept = saved.text.split("\n")[1]
        look = partial(stands, stage, lists, measure, squad, kept)
        stage.remember(SCOREKEEPER, f"{enter} of {squad} at {measure}", look)
    elif not stage.rough:
        raise CastMistake(f"not saved: {saved.text!r}")
    used = re.search(r"attempt (\d+) of (\d+)", enter)
    return used is not None and int(used[1]) < int(used[2])


def enter_label(card: Shown) -> str:
    """The button behind which the next attempt of a squad is typed in; empty where there is none."""
    return next((label for label in card.labels if label.startswith("Enter") and "run-off" not in label), "")


def _numbers(typed: dict[str, str | list[Option]]) -> dict[str, str]:
    """What is counted, of what is typed into a form."""
    counted = {name: value for name, value in typed.items() if isinstance(value, str) and value.isdigit()}
    return {name: value for name, value in counted.items() if name != "Points off"}


async def by_form(stage: Stage, cast: Cast, card: Shown, enter: str, *, slip: bool) -> Outcome:
    """Type an attempt into its form, read it back and save it; with a slip that is seen and changed."""
    keeper = stage.phone(SCOREKEEPER)
    opened = (await stage.do(lambda: keeper.press(card, enter))).opened()
    typed = typed_values(stage, cast, opened, enter)
    if slip:
        typed |= {name: f"{value}0" for name, value in _numbers(typed).items()}
    asked = await stage.do(lambda: keeper.fill(opened, typed))
    if slip and "Change it" in asked.shown().labels:
        again = (await stage.do(lambda: keeper.press(asked.shown(), "Change it"))).opened()
        typed = typed_values(stage, cast, again, enter)
        asked = await stage.do(lambda: keeper.fill(again, typed))
    return await stage.do(lambda: keeper.press(asked.shown(), "Save"))


def counted(stage: Stage, cast: Cast, squad: str, about: str, item: str) -> int:
    """How many of an item a squad brings in a run: what would be typed into its form."""
    return _bring(stage.chance(squad, about, item), 10, cast.skill(squad))


async def stands(stage: Stage, lists: dict[str, Shown], measure: str, squad: str, value: str) -> bool:
    """Whether a saved value can still be seen; one list a measure, kept in `lists`, is enough for all squads."""
    if measure == ONLY and ONLY not in lists and (several := [one for one in await measures(stage) if one != ONLY]):
        # It was the only thing to measure; a surprise has come to the table since.
        return any([await stands(stage, lists, one, squad, value) for one in several])
    if measure not in lists:
        lists[measure] = await squad_list(stage, measure)
    keeper, listed = stage.phone(SCOREKEEPER), lists[measure]
    return value in (await stage.do(lambda: keeper.choose(listed, SQUADS, squad))).text


def typed_values(stage: Stage, cast: Cast, form: Form, about: str, title: str = "") -> dict[str, str | list[Option]]:
    """What the scorekeeper types, by how good the squad is; every squad has its own skill.

    `title` is what stands above the form at the table, where this is another form for the same.
    """
    squad = title or form.title
    skill = cast.skill(squad)
    return {named(form, field): value(stage.chance(squad, about, field.label), field, skill) for field in form.fields}


def value(chance: Random, field: Field, skill: float) -> str | list[Option]:
    """One value within what the field says is possible, better for a better squad."""
    if field.label == "Time":
        return _time(chance, field.description, skill)
    if field.label == "Faults":
        return str(chance.randint(0, 3))
    if field.label.startswith("Points "):
        return "0"
    if field.kind == "options":
        return [option for option in field.options if chance.random() < 0.3 + 0.6 * skill][: field.most]
    if field.options:
        return [field.options[0]]
    return _count(chance, field, skill)


def _count(chance: Random, field: Field, skill: float) -> str:
    """A number of things or of members, or a measured number, within the bounds that the field names."""
    of, said = re.search(r"Of the squad's (\d+)", field.description), field.description
    if of is not None and field.value:
        # What the hand-in says is proposed, and the scorekeeper has counted the same.
        return field.value
    if of is not None:
        members = int(of[1])
        return str(members if chance.random() < 0.6 + 0.4 * skill else members - 1)
    bounds = re.search(r"(-?[\d.]+) to (-?[\d.]+)", said)
    if bounds is not None:
        return _number(chance, float(bounds[1].rstrip(".")), float(bounds[2].rstrip(".")), said, skill)
    if re.search(r"; -\d", said):
        return str(chance.randint(0, 1))
    there_are = re.search(r"There are (\d+)", said)
    most = 10 if there_are is None else int(there_are[1])
    return str(_bring(chance, most, skill))


def _bring(chance: Random, most: int, skill: float) -> int:
    """How many of so many things a squad brings."""
    return max(0, min(most, round(most * (0.3 + 0.6 * skill) + chance.gauss(0, 1) * most / 10)))


def _time(chance: Random, said: str, skill: float) -> str:
    """A time within the limit that the field names: 8 minutes where it names none."""
    limit = re.search(r"limit is (?:(\d+):)?(\d+(?:\.\d+)?)", said)
    whole = 480.0 if limit is None else 60 * int(limit[1] or 0) + float(limit[2])
    seconds = round((420 - 300 * skill + chance.uniform(-40, 40)) * whole / 480, 1 if whole >= 10 else 2)
    if seconds < 1:
        return f"{max(0.01, seconds):.2f}"
    return f"{int(seconds // 60)}:{seconds % 60:04.1f}"


def _number(chance: Random, lowest: float, highest: float, said: str, skill: float) -> str:
    """A measured number between the lowest and the highest that are possible, with the decimals that may be typed."""
    decimals = re.search(r"at most (\d+) decimal", said)
    place = 1 - skill if "Lower is better" in said else skill
    part = min(0.95, max(0.05, 0.1 + 0.7 * place + chance.uniform(-0.08, 0.08)))
    value = round(lowest + (highest - lowest) * part, int(decimals[1]) if decimals else 0)
    return f"{min(highest, max(lowest, value)):.{int(decimals[1]) if decimals else 0}f}"
