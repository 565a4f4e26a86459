"""Sign-up, through the same door-side function as in earnest."""

from datetime import timedelta

import bot.actions.squads.captain
import bot.actions.squads.sign_up  # noqa: F401
from bot.actions.core.schedule_cache import schedule_of
from bot.rules.squads.names import name_keys
from bot.words.core.refusals import lines
from bot.words.squads.sign_up import sign_up_panel
from storage.records.message import Select
from storage.tables import live_messages, squads
from tests.actions.conftest import Asking, Begin, button


async def found(asking: Asking, who: int, squad: str, section: str = "7-A") -> str:
    message = await asking.message(
        "squad.found", who, fields={"squad": squad, "name": f"Student {who}", "section": section}
    )
    return message.text


async def code_of(asking: Asking, who: int) -> str:
    text = (await asking.message("squad.mine", who)).text
    return text.split("Join code: **")[1][:5]


async def join(asking: Asking, who: int, code: str) -> str:
    return (await asking.message("squad.join-by-code", who, fields={"code": code, "name": f"Student {who}"})).text


async def test_a_squad_is_started_from_a_form_and_its_captain_gets_a_join_code(begin: Begin) -> None:
    asking = await begin()
    form = await asking.form("squad.start", 1)
    assert [field.label for field in form.fields] == ["Name of your squad", "Your name", "Your section"]
    closes = schedule_of(await asking.tryout()).signup_closes
    said = await found(asking, 1, "Crooked Spoons")
    assert "you are its captain" in said and f"before sign-up closes: <t:{int(closes.timestamp())}:F>" in said
    assert len(await code_of(asking, 1)) == 5


async def test_names_that_look_alike_are_refused(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Robots")
    for name in ("Rob0ts", "Robots"):
        refused = await found(asking, 2, name, "7-B")
        assert f"**{name}** will not do: there is a squad called **Robots** already" in refused
    assert "not in a squad" in (await asking.message("squad.mine", 2)).text


async def test_a_name_is_taken_that_looks_as_written_like_one_from_before_such_looks_were_kept(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Illicit Ills")
    async with asking.store.write() as db:
        await db.run("UPDATE squad SET written_look = NULL")
    await found(asking, 2, "Muddy Teapots")
    for who, same in ((3, "lllicit IIIs"), (4, "MUDDY TEAPOTS")):
        assert "no two names may be alike" in await found(asking, who, same), same
    async with asking.store.read() as db:
        tryout_id = (await asking.tryout()).id
        assert await squads.namesakes(db, tryout_id, name_keys("Curly Pickles")) == ["Illicit Ills"], "one might be"
        assert set(await squads.names(db, tryout_id)) == {"Illicit Ills", "Muddy Teapots"}


async def test_what_is_too_long_for_a_name_is_refused_before_it_is_compared_with_others(begin: Begin) -> None:
    asking = await begin()
    kept = name_keys.cache_info().misses
    assert "too long" in await found(asking, 1, "Muddy Teapots " * 400)
    assert name_keys.cache_info().misses == kept


async def test_a_name_that_will_not_do_leads_back_into_the_form(begin: Begin) -> None:
    asking = await begin()
    typed = {"squad": "Spoons @everyone", "name": "Student 1", "section": "7-A"}
    refused = await asking.message("squad.found", 1, fields=typed)
    assert "leave out the sign" in refused.text
    form = await asking.form(button(refused, "Type it again").key, 1)
    assert (form.key, form.title) == ("squad.found", "Start a squad")
    assert "you are its captain" in await found(asking, 1, "Crooked Spoons")
    again = await asking.form("squad.rename", 1)
    refused = await asking.message(again.key, 1, fields={field.key: "X" for field in again.fields})
    assert "too short" in refused.text and (await asking.form(button(refused, "Type it again").key, 1)) == again


async def test_only_squads_of_the_own_section_with_a_free_seat_are_offered(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons", "7-A")
    await found(asking, 2, "Muddy Teapots", "7-B")
    message = await asking.message("student.enter:list", 3, fields={"name": "Cy", "section": "7-B"})
    select = next(row for row in message.rows if isinstance(row, Select))
    assert [choice.label for choice in select.choices] == ["Muddy Teapots"]
    text = (await asking.message(select.key, 3, values=(select.choices[0].value,))).text
    assert "You are in **Muddy Teapots**" in text


async def test_squads_past_25_are_on_the_next_page(begin: Begin) -> None:
    asking = await begin()
    for who in range(1, 28):
        await found(asking, who, f"Squad number {who}")
    message = await asking.message("student.enter:list", 99, fields={"name": "Cy", "section": "7-A"})
    later = button(message, "Next page 2 of 2")
    second = await asking.message(later.key, 99)
    select = next(row for row in second.rows if isinstance(row, Select))
    assert [choice.label for choice in select.choices] == ["Squad number 26", "Squad number 27"]


async def test_a_student_of_another_section_cannot_join(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons", "7-A")
    code = await code_of(asking, 1)
    await asking.ask("student.enter:list", 2, fields={"name": "Ben", "section": "7-B"})
    assert "is for section 7-A" in await join(asking, 2, code)


async def test_after_the_close_nothing_changes_any_more(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    code = await code_of(asking, 1)
    asking.now += timedelta(days=30)
    assert "Sign-up is closed" in await join(asking, 2, code)
    assert "Sign-up is closed" in (await asking.message("squad.left", 1)).text


async def test_one_who_looks_is_on_the_board_and_off_it_when_seated(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("student.enter:look", 2, fields={"name": "Ben", "section": "7-A"})
    await found(asking, 1, "Crooked Spoons")
    await join(asking, 2, await code_of(asking, 1))
    async with asking.store.read() as db:
        assert await db.value("SELECT sum(looking) FROM student") == 0


async def test_the_closed_panel_offers_only_buttons_that_work(begin: Begin) -> None:
    asking = await begin("judging")
    open_now = sign_up_panel(await asking.tryout(), asking.now + timedelta(days=1), True)
    days = (await asking.tryout()).plan.retention_days
    assert f"until {days} days after the result. Points stay, without names." in open_now.text
    closed = sign_up_panel(await asking.tryout(), asking.now + timedelta(days=1), False)
    labels = [one.label for row in closed.rows if isinstance(row, tuple) for one in row]
    assert labels == ["My squad", "I came late"]
    assert all(label in closed.text for label in labels)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await live_messages.place_all(db, tryout.id, [("signup", "signup"), ("brief", "news"), ("rules", "news")])
        await db.run("UPDATE live_message SET stale = 0")
    await asking.ask("judging.closed")
    async with asking.store.read() as db:
        assert [row["stale"] for row in await db.rows("SELECT stale FROM live_message")] == [1, 1, 1]
    assert "Please talk to your coach." in (await asking.message("student.late", 9)).text
    over = sign_up_panel(await asking.tryout(), asking.now + timedelta(days=1), False)
    labels = [one.label for row in over.rows if isinstance(row, tuple) for one in row]
    assert labels == ["My squad"] and over.text.endswith("Not in a squad? Talk to your coach.")
    assert all(
        "Start a squad" not in text for name, text in lines().items() if name.endswith(("closed", "in_squad_late"))
    )
