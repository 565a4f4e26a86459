"""A team of several squads: named students are asked, and each answers alone."""

from datetime import timedelta

from bot.actions.core.scheduled_jobs import ring
from storage.records.message import Message, Select
from tests.actions.conftest import Asking, Begin, button
from tests.actions.scored import whole

ADA, BO, CY = 10_100, 10_101, 20_100


def select(message: Message, prompt: str) -> Select:
    return next(row for row in message.rows if isinstance(row, Select) and row.prompt == prompt)


async def ids(asking: Asking, *accounts: int) -> tuple[str, ...]:
    async with asking.store.read() as db:
        found = {row["platform_id"]: str(row["id"]) for row in await db.rows("SELECT id, platform_id FROM student")}
    return tuple(found[account] for account in accounts)


async def announced(begin: Begin) -> tuple[Asking, list[int]]:
    asking, _ = await whole(begin, 3)
    assert "once the result is announced" in (await asking.message("team.show:0")).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        rows = await db.rows("SELECT platform_id FROM student WHERE squad_id IN (1, 2) ORDER BY squad_id, id")
    return asking, [row[0] for row in rows]


async def test_three_students_of_two_squads_answer_one_by_one(begin: Begin) -> None:
    asking, accounts = await announced(begin)
    ada, bo, cy = accounts[0], accounts[1], accounts[-1]
    page = await asking.message("team.show:0")
    page = await asking.message(select(page, "Offer a place").key, values=await ids(asking, ada, bo, cy))
    page = await asking.message(select(page, "Keep as an alternate").key, values=await ids(asking, accounts[2]))
    assert "Asked, no answer yet (3)" in page.text and "Alternates (1)" in page.text
    offer = await asking.message("team.mine", ada)
    answer = (await asking.message(button(offer, "Yes, I want the place").key, ada)).text
    assert answer.startswith("You have said yes. The place is not sure before")
    mine = await asking.message(button(await asking.message("squad.mine", ada), "My place in the team").key, ada)
    assert mine.text == answer, "pressed again, it says the same"
    await asking.ask("team.no", bo)
    assert "You have said no to the place" in (await asking.message("team.mine", bo)).text
    assert "My place" not in str((await asking.message("squad.mine", accounts[2])).rows)
    assert "ask an alternate" in (await asking.messages_to("office"))[-1]
    assert "No place waits" in (await asking.message("team.yes", bo)).text
    assert "No place waits" in (await asking.message("team.yes", accounts[2])).text
    page = await asking.message("team.show:0")
    assert "Said yes (1)" in page.text and "Declined (1)" in page.text and "Asked, no answer yet (1)" in page.text
    page = await asking.message(select(page, "Note a no, or take an offer back").key, values=await ids(asking, cy))
    assert "Asked" not in page.text
    assert any("offered a place in the team" in text for text in await asking.messages_to("squad/1"))
    assert "is not offered to" in (await asking.messages_to("squad/2"))[-1]
    await ring(asking.store, asking.now + timedelta(days=4))
    assert "** has a place in the team." in (await asking.messages_to("squad/1"))[-1]
    asking.now += timedelta(days=4)
    assert "In the team (1)" in (await asking.message("team.show:0")).text


async def test_no_place_is_taken_back_from_whoever_has_said_yes_after_the_coach_looked(begin: Begin) -> None:
    asking, accounts = await announced(begin)
    ada = accounts[0]
    page = await asking.message("team.show:0")
    page = await asking.message(select(page, "Offer a place").key, values=await ids(asking, ada))
    await asking.ask("team.yes", ada)
    back = select(page, "Note a no, or take an offer back").key
    page = await asking.message(back, values=await ids(asking, ada))
    assert "nothing was set" in page.text and "Said yes (1)" in page.text
    page = await asking.message(select(page, "Note a no, or take an offer back").key, values=await ids(asking, ada))
    assert "Said yes" not in page.text
    assert "is not offered to Student 10100 any more" in (await asking.messages_to("squad/1"))[-1]
