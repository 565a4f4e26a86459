"""At the scorekeeper's table: attempts are typed in, one slips and is undone, an absence by mistake, counts at once."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import partial

from deploy.rehearsal.cast import attempt_entry
from deploy.rehearsal.cast.people import SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, walk
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
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
    typed = attempt_entry.typed_values(stage, cast, opened, enter)
    if slip:
        typed |= {name: f"{value}0" for name, value in _numbers(typed).items()}
    asked = await stage.do(lambda: keeper.fill(opened, typed))
    if slip and "Change it" in asked.shown().labels:
        again = (await stage.do(lambda: keeper.press(asked.shown(), "Change it"))).opened()
        typed = attempt_entry.typed_values(stage, cast, again, enter)
        asked = await stage.do(lambda: keeper.fill(again, typed))
    return await stage.do(lambda: keeper.press(asked.shown(), "Save"))


async def stands(stage: Stage, lists: dict[str, Shown], measure: str, squad: str, value: str) -> bool:
    """Whether a saved value can still be seen; one list a measure, kept in `lists`, is enough for all squads."""
    if measure == ONLY and ONLY not in lists and (several := [one for one in await measures(stage) if one != ONLY]):
        # It was the only thing to measure; a surprise has come to the table since.
        return any([await stands(stage, lists, one, squad, value) for one in several])
    if measure not in lists:
        lists[measure] = await squad_list(stage, measure)
    keeper, listed = stage.phone(SCOREKEEPER), lists[measure]
    return value in (await stage.do(lambda: keeper.choose(listed, SQUADS, squad))).text


async def all_at_once(stage: Stage, _cast: Cast) -> None:
    """What the bot has counted of the parts that are in is taken for all squads at once."""
    for measure in await measures(stage):
        listed = await squad_list(stage, measure)
        if any(label.startswith("Take all") for label in listed.labels):
            await walk(stage, SCOREKEEPER, listed, "Take all", "Save all")


async def undone(stage: Stage, cast: Cast) -> None:
    """An attempt that stands in the wrong line is undone, and entered again."""
    measure = (await measures(stage))[-1]
    squads = await squads_at(stage, measure)
    await at(stage, measure, squads[1], "Undo", "It was entered wrongly", "Enter it again")
    await attempt(stage, cast, {}, measure, squads[1], slip=False)


async def absent_by_mistake(stage: Stage, measure: str, squad: str) -> None:
    """A squad is noted as absent, and then as taking part after all."""
    await at(stage, measure, squad, "Absence", {"Does it take part": "Absent"})
    await at(stage, measure, squad, "Absence", {"Does it take part": "It takes part"})
    await at(stage, measure, squad, "All squads", "Another measure")


async def at(stage: Stage, measure: str, squad: str, *steps: Step) -> Outcome:
    """The scorekeeper opens a squad at a measure, and walks on."""
    listed = await squad_list(stage, measure)
    return await walk(stage, SCOREKEEPER, listed, Pick(SQUADS, (squad,)), *steps)
