"""Turns for what takes much memory: few at once, one a person, until the answer is out."""

import asyncio
from types import SimpleNamespace
from typing import Any

from bot.interactions.files_at_once import CARRIED_AT_ONCE, FewAtOnce
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.actions.hand_in_cast import window
from tests.interactions.test_deferred_answers import Wire, never, router_of


async def test_few_are_in_at_once_and_whoever_presses_often_stands_in_the_line_once() -> None:
    turns, order, doors = FewAtOnce(2), list[int](), asyncio.Event()

    async def enter(who: int) -> None:
        async with turns.turn(who):
            order.append(who)
            await doors.wait()

    tasks = [asyncio.create_task(enter(who)) for who in (1, 1, 1, 1, 2, 3)]
    for _ in range(20):
        await asyncio.sleep(0)
    assert order == [1, 2]
    doors.set()
    await asyncio.gather(*tasks)
    assert order[:3] == [1, 2, 3] and sorted(order) == [1, 1, 1, 1, 2, 3]


async def test_whoever_is_cancelled_while_waiting_keeps_nobody_out() -> None:
    turns = FewAtOnce(1)

    async def enter(who: int) -> None:
        async with turns.turn(who):
            await asyncio.sleep(0)

    async with turns.turn(1):
        waiting = [asyncio.create_task(enter(who)) for who in (1, 2)]
        await asyncio.sleep(0)
        for task in waiting:
            task.cancel()
        await asyncio.gather(*waiting, return_exceptions=True)
    await enter(1)
    await enter(2)


async def test_answers_with_photos_do_not_pile_up_while_the_platform_takes_them(begin: Begin) -> None:  # noqa: F811
    asking, _, _ = await window(begin)
    router = router_of(asking.store, never)
    carried: list[int] = []
    inside: list[int] = []
    most = 0
    wires: list[Any] = []
    for number, who in enumerate((1, 1, 1, 2, 3, 11, 12, 13)):
        wire: Any = Wire("hand-in.parts:0", asking.now)
        wire.id, wire.user = 9000 + number, SimpleNamespace(id=who, display_name="Ida")

        async def take(who: int = who, **_: Any) -> None:
            nonlocal most
            assert who not in inside, "one at a time for one person"
            inside.append(who)
            most = max(most, len(inside))
            await asyncio.sleep(0.05)
            inside.remove(who)
            carried.append(who)

        wire.edit_original_response = take
        wires.append(wire)
    await asyncio.gather(*(router.pressed(wire) for wire in wires))
    assert all(wire.done for wire in wires), "everybody is told to wait"
    assert sorted(carried) == [1, 1, 1, 2, 3, 11, 12, 13]
    assert most <= CARRIED_AT_ONCE
