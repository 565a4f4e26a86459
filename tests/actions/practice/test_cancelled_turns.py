"""Practice turns that are no more after dates were moved are told and given back."""

from datetime import UTC, datetime

from bot.rules.plan.read_plan import write_plan
from storage.records.message import Message
from storage.records.request import Upload
from storage.tables import practice as table
from tests.actions.conftest import Begin
from tests.actions.office_cast import planned
from tests.actions.practice_cast import (
    FIRST,
    book,
    seconds,
    window,
)


async def test_turns_outside_new_dates_are_told_and_given_back(begin: Begin) -> None:
    asking, comets, moles = await window(begin)
    late = datetime(2027, 1, 20, 17, 10, tzinfo=UTC)
    assert "Booked" in await book(asking, 1, FIRST)
    assert "Booked" in await book(asking, 11, late)
    plan = (await asking.tryout()).plan
    shorter = plan.model_copy(update={"calendar": plan.calendar.model_copy(update={"days": 4})})
    file = {"plan": Upload(name="plan.toml", data=write_plan(shorter).encode())}
    sure = await asking.message("plan.use", uploads=file, fields={"reason": "Snow days"})
    await asking.ask(next(key for key in _keys(sure) if key.startswith("plan.apply")))
    told = (await asking.messages_to(f"squad/{moles}"))[-1]
    assert f"<t:{seconds(late)}:F>" in told and "may book another one" in told
    assert not any("has changed" in text for text in await asking.messages_to(f"squad/{comets}"))
    async with asking.store.read() as db:
        turns = await table.turns(db, 1)
    assert [turn.begins_at for turn in turns] == [FIRST]
    states = {row.key: row.state for row in await planned(asking, "practice")}
    assert states == {f"{comets}.{seconds(FIRST)}": "waiting", f"{moles}.{seconds(late)}": "cancelled"}


def _keys(message: Message) -> list[str]:
    return [part.key for row in message.rows if isinstance(row, tuple) for part in row]
