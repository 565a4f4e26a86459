"""The coach looks at the result in private and how firm it is, lets ties run off, and announces it."""

from __future__ import annotations

import csv
import io
from functools import partial
from typing import Any

from deploy.rehearsal.cast import attempt_entry, score_table
from deploy.rehearsal.cast.change_plan import one_more_place
from deploy.rehearsal.cast.people import SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, awaited, newest
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.rendering import Shown

RUN_OFF = "Enter run-off"
NOT_COMPLETE = "**NOT COMPLETE**"
NO_RUN_OFF = "**This tie is yours to settle.**"
POINTS = ": points of 100"
WAYS = (("Numbers",), ("Numbers", "Do the judges agree?"), ("Squad by squad",))


async def preview(stage: Stage) -> Shown:
    """Open the standings, for the coach alone."""
    return (await stage.do(lambda: stage.coach.command("/results", room=OFFICE))).shown()


async def look_closer(stage: Stage) -> None:
    """The coach reads what stands behind the standings, and tries other weights in private."""
    for way in WAYS:
        shown = await preview(stage)
        for label in way:
            shown = (await stage.do(partial(stage.coach.press, shown, label))).shown()
    shown = await preview(stage)
    opened = await stage.do(partial(stage.coach.press, shown, "What if?"))
    if opened.form is not None:
        await stage.do(partial(stage.coach.fill, opened.form, {}))


async def not_yet(stage: Stage, _cast: Cast) -> None:
    """The coach looks at one squad's whole way, sets a time for the announcement, and takes it back."""
    await in_office(stage, "Squad by squad", Pick("Which squad?"), line="/results")
    await in_office(stage, "Announce", "Announce at a time", {"Time of day": "23:30"}, "Do not", line="/results")


async def announce(stage: Stage) -> None:
    """Announce the result after reading what will be said."""
    asked = await _ask(stage)
    for again in range(5):
        if "Announce now" in asked.labels:
            break
        if NOT_COMPLETE in asked.text:
            raise CastMistake(f"the result cannot be announced: {asked.text[:300]!r}")
        if NO_RUN_OFF in asked.text:
            await one_more_place(stage)
        else:
            await _run_off(stage, again)
        asked = await _ask(stage)
    outcome = await stage.do(lambda: stage.coach.press(asked, "Announce now"))
    if "Announced" in outcome.text:
        stage.acknowledged += 1
    elif not stage.rough:
        raise CastMistake(f"not announced: {outcome.text!r}")
    await awaited(stage, lambda: newest(stage.coach, NEWS, "the result"))


async def _ask(stage: Stage) -> Shown:
    """Open what would be announced; the standings themselves where a tie must be settled first."""
    shown = await preview(stage)
    if "Announce" not in shown.labels:
        return shown
    return (await stage.do(lambda: stage.coach.press(shown, "Announce"))).shown()


async def _run_off(stage: Stage, again: int) -> None:
    """Let every squad that may break a tie do one run-off at the first measure that offers it."""
    keeper = stage.phone(SCOREKEEPER)
    for measure in await score_table.measures(stage):
        listed = await score_table.squad_list(stage, measure)
        done = False
        for place, squad in enumerate(option.label for option in listed.selects[-1].options):
            card = (await stage.do(partial(keeper.choose, listed, score_table.SQUADS, squad))).shown()
            label = next((one for one in card.labels if one.startswith(RUN_OFF)), None)
            if label is None:
                continue
            form = (await stage.do(partial(keeper.press, card, label))).opened()
            skill = 0.1 + 0.2 * ((place + again) % 5)
            chances = {field.label: stage.chance("run-off", again, form.title, field.label) for field in form.fields}
            typed = {field.label: attempt_entry.value(chances[field.label], field, skill) for field in form.fields}
            asked = (await stage.do(partial(keeper.fill, form, typed))).shown()
            await stage.do(partial(keeper.press, asked, "Save"), told="Saved")
            done = True
        if done:
            return


def read_standings(stage: Stage, shown: Shown) -> list[dict[str, Any]]:
    """The standings in the table that came with the preview."""
    file = next(file for file in shown.files if file.name.endswith(".csv"))
    rows = csv.DictReader(io.StringIO(stage.coach.download(file).decode("utf-8-sig"), newline=""))
    return [
        {
            "rank": int(row["place"]) if row["place"] else None,
            "squad": row["squad"],
            "total": row["total"],
            "events": {name.removesuffix(POINTS): value for name, value in row.items() if name.endswith(POINTS)},
        }
        for row in rows
    ]
