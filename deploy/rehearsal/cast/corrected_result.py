"""A slip at the table is seen only in the result: it is taken back, put right, and announced again."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast import attempt_entry, preview_and_announcement, protests, score_table
from deploy.rehearsal.cast.people import CO_COACH, COACH, SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, awaited, newest

TOO_MANY = 4
"""So many faults are typed too many for a squad."""
PUBLIC = "One number of the surprise task was typed in wrongly"


async def slip(stage: Stage, cast: Cast) -> None:
    """The faults of one squad are typed in wrongly, and nobody sees it."""
    squad = _squad(cast)
    for measure in await score_table.measures(stage):
        listed = await score_table.squad_list(stage, measure)
        card = (await walk(stage, SCOREKEEPER, listed, Pick(score_table.SQUADS, (squad,)))).shown()
        if "Stopwatch" not in card.labels:
            continue
        enter = score_table.enter_label(card)
        form = (await walk(stage, SCOREKEEPER, card, enter)).opened()
        typed = attempt_entry.typed_values(stage, cast, form, enter)
        wrong = {"Faults": str(int(str(typed["Faults"])) + TOO_MANY)}
        asked = await stage.do(partial(stage.phone(SCOREKEEPER).fill, form, typed | wrong))
        await walk(stage, SCOREKEEPER, asked, "Save")
        stage.attempts += 1
        stage.facts["slip"] = measure


async def put_right(stage: Stage, cast: Cast) -> None:
    """Its captain protests, two coaches uphold it (`protests`), and the corrected result is announced an hour later."""
    measure, squad = stage.facts["slip"], _squad(cast)
    agreed = await protests.upheld(stage, cast.groups[-1].people[0])
    await walk(stage, CO_COACH, agreed, "Take the announcement back", {"What has to be checked": PUBLIC})
    await awaited(stage, lambda: newest(stage.coach, NEWS, "is being checked again"))
    listed = await score_table.squad_list(stage, measure)
    await walk(stage, SCOREKEEPER, listed, Pick(score_table.SQUADS, (squad,)), "Correct", {"Why": PUBLIC})
    await in_room(stage, COACH, OFFICE, "Agree: it may be corrected")
    await walk(stage, SCOREKEEPER, listed, Pick(score_table.SQUADS, (squad,)), "Undo", "It was entered wrongly")
    label = next(one.label for select in listed.selects for one in select.options if squad in one.label)
    await score_table.attempt(stage, cast, {}, measure, label, slip=False)
    stage.attempts -= 1
    await stage.wait(hours=1)
    await preview_and_announcement.announce(stage)
    await awaited(stage, lambda: newest(stage.coach, NEWS, "the corrected result"))


def _squad(cast: Cast) -> str:
    return cast.groups[-1].name
