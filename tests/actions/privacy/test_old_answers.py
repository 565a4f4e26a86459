"""Answers that are kept against repeated events hold names, and are forgotten after days."""

from datetime import timedelta

from bot.actions.privacy.purge_tryout import drop_old_answers
from bot.rules.privacy.retention import ANSWERS
from storage.records.request import Person
from tests.actions.conftest import Asking, Begin

START = {"squad": "Crooked Spoons", "name": "Zacharias", "section": "7-A"}


async def answers(asking: Asking) -> str:
    async with asking.store.read() as db:
        return str([row[0] for row in await db.rows("SELECT answer_json FROM processed_interaction")])


async def test_old_answers_go_every_night_and_new_ones_stay(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("squad.found", 1, fields=START)
    await drop_old_answers(asking.store, asking.now + ANSWERS - timedelta(minutes=1))
    assert "Crooked Spoons" in await answers(asking)
    await drop_old_answers(asking.store, asking.now + ANSWERS + timedelta(minutes=1))
    assert await answers(asking) == "[]"


async def test_who_recorded_an_attempt_is_erased_with_the_account(begin: Begin) -> None:
    asking = await begin("judging")
    await asking.ask("people.scorekeeper", people=(Person(id=777, name="Zebulon"),))
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'signup'")
    await asking.ask("squad.found", 1, fields=START)
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'judging'")
    await asking.ask("table.save:run.socks:1:1:3:0", 777)
    async with asking.store.read() as db:
        assert await db.value("SELECT recorded_by FROM attempt") == 777
    await asking.ask("people.account-forgotten:777")
    async with asking.store.read() as db:
        assert await db.value("SELECT recorded_by FROM attempt") == 0
        assert "777" not in await answers(asking)
