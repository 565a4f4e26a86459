"""A try-out in which everything is recorded and handed in, for the checks of the result and of what follows it."""

from typing import Any

from bot.rules.core.second_coach import COOLING
from storage.records.message import Message
from storage.tables import surprises, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.table_help import add_judges, add_squads, hand_in

BUNTING = {"reasons": 3, "theme": 2}


async def start_surprise(asking: Asking) -> None:
    """The surprise has been started, so that it can be recorded at the table."""
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await surprises.start(db, tryout.id, "chain", asking.now)


async def record(asking: Asking, squads: list[int], socks: list[int], seconds: list[int | str]) -> None:
    """Attempts and shares of some squads."""
    for squad, found, time in zip(squads, socks, seconds, strict=True):
        await asking.ask(f"table.save:run.socks:{squad}:1:{found}:0")
        await asking.ask(f"table.save:chain.time:{squad}:1:{time}:0")
        await asking.ask(f"table.save:bunting.members:{squad}:1:3")


async def whole(begin: Begin, count: int = 3, state: Any = "settled", **changes: Any) -> tuple[Asking, list[int]]:
    """A try-out in which everything is recorded and handed in."""
    asking = await begin("judging" if state == "settled" else state, **changes)
    await start_surprise(asking)
    squads = await add_squads(asking, count)
    socks = [max(14 - place, 0) for place in range(count)]
    await record(asking, squads, socks, [100 + 9 * place for place in range(count)])
    for judge in await add_judges(asking, 2):
        for squad in squads:
            await hand_in(asking, judge, squad, "bunting", "bunting", {"reasons": 1 + judge, "theme": 2})
            await hand_in(asking, judge, squad, "chain", "team", {"talk": 3})
    if state == "settled":
        await settle(asking)
    return asking, squads


async def settle(asking: Asking) -> None:
    """Judging is closed, so that totals can be seen."""
    async with asking.store.write() as db:
        await tryouts.set_state(db, (await asking.tryout()).id, "settled")


async def opened(asking: Asking, squad: int, about: str) -> None:
    """Two coaches agree that what a squad has in an event may be corrected."""
    form = await asking.form(f"table.correct:{about}:{squad}")
    said = await asking.message(form.key, fields={"reason": "The count was wrong"})
    asking.now += COOLING
    await asking.ask(button(said, "Agree: it may be corrected").key)


async def preview(asking: Asking, who: int = COACH) -> Message:
    return await asking.message("results.panel", who)
