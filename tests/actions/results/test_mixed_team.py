"""A team of several squads: named students are asked, and each answers alone."""

from datetime import timedelta

from bot.actions.core.scheduled_jobs import ring
from storage.records.message import Message, SelectField
from storage.tables import mixed_team
from tests.actions.conftest import Asking, Begin, button, select
from tests.actions.scored import whole
from tests.actions.table_help import labels

NOTE = "Note an answer, or take an offer back"


async def ids(asking: Asking, *accounts: int) -> tuple[str, ...]:
    async with asking.store.read() as db:
        found = {row["platform_id"]: str(row["id"]) for row in await db.rows("SELECT id, platform_id FROM student")}
    return tuple(found[account] for account in accounts)


async def offer(asking: Asking, *accounts: int, days: str = "3") -> Message:
    """Offer places to these students; the page of the team as it then is."""
    page = await asking.message("team.show:0")
    form = await asking.form(select(page, "Offer a place").key, values=await ids(asking, *accounts))
    assert [type(field) for field in form.fields] == [SelectField]
    return await asking.message(form.key, fields={"days": days})


async def look(asking: Asking, account: int) -> Message:
    """What the coach can note about a student."""
    page = await asking.message("team.show:0")
    return await asking.message(select(page, NOTE).key, values=await ids(asking, account))


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
    page = await offer(asking, ada, bo, cy)
    page = await asking.message(select(page, "Keep as an alternate").key, values=await ids(asking, accounts[2]))
    assert "Asked, no answer yet (3)" in page.text and "Alternates (1)" in page.text
    asked = await asking.message("team.mine", ada)
    assert "You can answer until <t:" in asked.text
    answer = (await asking.message(button(asked, "Yes, I want the place").key, ada)).text
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
    page = await asking.message(button(await look(asking, cy), "Take it back").key)
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
    await offer(asking, ada)
    noting = await look(asking, ada)
    await asking.ask("team.yes", ada)
    page = await asking.message(button(noting, "Take it back").key)
    assert "nothing was set" in page.text and "Said yes (1)" in page.text
    page = await asking.message(button(await look(asking, ada), "Take it back").key)
    assert "Said yes" not in page.text
    assert "is not offered to Student 10100 any more" in (await asking.messages_to("squad/1"))[-1]


async def test_silent_students_are_reminded_the_coach_is_told_and_only_the_coach_lets_an_offer_lapse(
    begin: Begin,
) -> None:
    asking, accounts = await announced(begin)
    ada, bo, cy = accounts[0], accounts[1], accounts[-1]
    page = await offer(asking, ada, bo, cy, days="2")
    assert "can answer until <t:" in page.text
    assert "with the button until <t:" in (await asking.messages_to("squad/1"))[-1]
    await asking.ask("team.yes", bo)
    async with asking.store.read() as db:
        until = (await mixed_team.offers(db, 1))[0].answer_by
    assert until is not None
    assert "Let it lapse" not in labels(await look(asking, ada))
    noting = await look(asking, ada)
    early = button(noting, "The answer is no").key.replace("declined", "lapsed")
    assert "was told that the last moment to answer is <t:" in (await asking.message(early)).text
    await ring(asking.store, until - timedelta(minutes=1))
    for squad, who in ((1, ada), (2, cy)):
        reminders = [text for text in await asking.messages_to(f"squad/{squad}") if "is still offered to you" in text]
        assert len(reminders) == 1 and f" <@{who}>: a place in the team" in reminders[0]
    await ring(asking.store, until)
    told = [text for text in await asking.messages_to("office") if "have not answered the offer" in text]
    assert len(told) == 1 and f"Student {ada}" in told[0] and f"Student {cy}" in told[0]
    asking.now = until + timedelta(minutes=1)
    assert "could answer until <t:" in (await asking.message("team.show:0")).text
    page = await asking.message(button(await look(asking, ada), "Let it lapse").key)
    assert f"Did not answer in time (1): Student {ada}" in page.text
    assert "The time to answer is over" in (await asking.messages_to("squad/1"))[-1]
    assert "The time to answer is over" in (await asking.message("team.mine", ada)).text
    assert "No place waits" in (await asking.message("team.yes", ada)).text
    late = await asking.message(button(await look(asking, cy), "The answer is yes").key)
    assert "In the team (2)" in late.text, "until it lapses an answer counts"
    page = await offer(asking, ada)
    assert "Asked, no answer yet (1)" in page.text, "who was silent can be asked anew"


async def test_an_answer_in_time_leaves_nobody_to_remind(begin: Begin) -> None:
    asking, accounts = await announced(begin)
    await offer(asking, accounts[0], days="1")
    await asking.ask("team.no", accounts[0])
    await ring(asking.store, asking.now + timedelta(days=6))
    assert not [text for text in await asking.messages_to("squad/1") if "is still offered to you" in text]
    assert not [text for text in await asking.messages_to("office") if "not answered the offer" in text]


async def test_an_offer_does_not_lapse_while_a_protest_is_open(begin: Begin) -> None:
    asking, accounts = await announced(begin)
    await offer(asking, accounts[0], days="1")
    await asking.ask("protest.filed", accounts[0], fields={"text": "In our second run one sock was not counted."})
    asking.now += timedelta(days=3)
    lapse = button(await look(asking, accounts[0]), "Let it lapse").key
    assert "does not pass on yet" in (await asking.message(lapse)).text


async def test_the_coach_reads_whom_to_ask_in_person(begin: Begin) -> None:
    asking, accounts = await announced(begin)
    ada, cy = accounts[0], accounts[-1]
    asked = [*await ids(asking, ada, cy)]
    async with asking.store.write() as db:
        await db.run("UPDATE student SET platform_id = NULL WHERE id = ?", int(asked[0]))
    page = await asking.message("team.offered:open:" + ":".join(asked), fields={"days": "3"})
    assert f"please ask in person: Student {ada}" in page.text and "Asked, no answer yet (2)" in page.text
    page = await asking.message(
        button(await asking.message("team.settle", values=(asked[0],)), "The answer is yes").key
    )
    assert "ask in person" not in page.text
