"""Squads are equal at the last place, and nothing in the plan can be run off: the coach gives one place more."""

from datetime import timedelta
from typing import Any

from bot.rules.plan.read_plan import write_plan
from storage.records.message import Message
from storage.records.request import Upload
from storage.tables import tryouts
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.scored import opened, preview, settle
from tests.actions.table_help import add_judges, add_squads, hand_in, labels

JUDGED = {"events": (small_plan().events[1],), "tie_breaks": ()}
"""The bunting alone: marks of judges, and how many members took part."""


async def tied(begin: Begin, **changes: Any) -> Asking:
    """Two squads of which the judge and the table say the same."""
    asking = await begin("judging", **(JUDGED | changes))
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, "0" * 64, asking.now)
    squads = await add_squads(asking, 2)
    (judge,) = await add_judges(asking, 1)
    for squad in squads:
        await asking.ask(f"table.save:bunting.members:{squad}:1:3")
        await hand_in(asking, judge, squad, "bunting", "bunting", {"reasons": 3, "theme": 2})
    await settle(asking)
    return asking


async def with_places(asking: Asking, places: int, **other: Any) -> Message:
    changed = small_plan(**JUDGED, places=places, **other)
    file = Upload(name="plan.toml", data=write_plan(changed).encode())
    return await asking.message("plan.use", uploads={"plan": file}, fields={"reason": "Two squads are equal"})


async def test_no_run_off_is_asked_for_where_there_is_nothing_to_run(begin: Begin) -> None:
    asking = await tied(begin)
    message = await preview(asking)
    assert "run-off" not in message.text.lower()
    assert (
        "**This tie is yours to settle.**" in message.text
        and "**Sections and sizes**, and give 1 place more" in message.text
    )
    assert labels(message)[:2] == ["Plan", "Announce"] and button(message, "Plan").key == "plan.panel"
    assert "nothing in this plan can be run off" in (await asking.message("results.announce")).text


async def test_a_place_more_in_the_form_is_enough(begin: Begin) -> None:
    asking = await tied(begin)
    form = await asking.form(button(await asking.message("plan.panel"), "Sections and sizes").key)
    typed = {field.key: getattr(field, "value", "") for field in form.fields}
    again = typed | {"places": "2", "announce": "winner", "reason": "Two squads are equal"}
    assert "the number of places is 2 instead of 1" in (await asking.message(form.key, fields=again)).text


async def test_a_place_more_settles_it_once_the_coach_has_taken_time_to_think(begin: Begin) -> None:
    asking = await tied(begin)
    yes = button(await with_places(asking, 2), "Yes, change it").key
    assert "only if a second coach" in (await asking.message(yes)).text
    asking.now += timedelta(minutes=10)
    await asking.ask(yes)
    assert (await asking.tryout()).plan.places == 2
    assert "the number of places is 2 instead of 1" in (await asking.messages_to("news"))[-1]
    assert labels(await preview(asking))[0] == "Announce"


async def test_nothing_else_changes_after_judging_and_places_only_where_squads_are_equal(begin: Begin) -> None:
    asking = await tied(begin)
    assert "plan cannot change any more" in (await with_places(asking, 2, name="Another name")).text
    await opened(asking, 1, "bunting.members")
    await asking.ask("table.undone:1:slip")
    await asking.ask("table.save:bunting.members:1:1:2")
    assert "plan cannot change any more" in (await with_places(asking, 2)).text
