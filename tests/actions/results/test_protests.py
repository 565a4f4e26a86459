"""Protests: filed by the captain, decided by two coaches, and no place is given for good with one open."""

from datetime import timedelta

from storage.records.message import Message, Select
from storage.records.request import Person
from storage.tables import outbox
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.office_cast import texts, until
from tests.actions.scored import whole

CAPTAIN, SECOND = 10_100, 500


TEXT = {"text": "In our second run one sock was counted that lay outside the basket."}


async def announced(begin: Begin) -> tuple[Asking, list[int]]:
    asking, squads = await whole(begin, 3)
    await asking.ask("people.coach", people=(Person(id=SECOND, name="Ms Reed"),))
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    return asking, list(squads)


async def newest(asking: Asking, address: str) -> Message:
    async with asking.store.read() as db:
        rows = await db.rows("SELECT max(id) FROM outbox_message WHERE address = ?", address)
        found = await outbox.get(db, int(rows[0][0]))
    assert found is not None
    return found.message


async def test_two_coaches_decide_and_the_corrected_result_says_why(begin: Begin) -> None:
    asking, squads = await announced(begin)
    mine = await asking.message("squad.mine", CAPTAIN)
    form = await asking.form(button(mine, "Question about our result").key, CAPTAIN)
    assert "Only coaches can read" in (await asking.message(form.key, CAPTAIN, fields=TEXT)).text
    assert "sock" not in (await asking.messages_to(f"squad/{squads[0]}"))[-1]
    one = await asking.message("protests.one:1")
    assert "> In our second run" in one.text and texts(one)[:2] == ["Uphold", "Reject"]
    why = await asking.form(button(one, "Uphold").key)
    again = await asking.message(why.key, fields={"reason": "The photo shows it"})
    assert "I agree" not in texts(again)
    assert "A second coach must agree" in (await asking.message("protests.agreed:1")).text
    second = await asking.message("protests.one:1", SECOND)
    told = await asking.message(button(second, "I agree").key, SECOND)
    assert "take the announcement back" in told.text
    assert "will be corrected.**\nWhy: The photo shows it" in (await asking.messages_to(f"squad/{squads[0]}"))[-1]
    assert "Two coaches have settled that one" in (await asking.message("protests.agreed:1", SECOND)).text
    await asking.ask("results.taken-back", fields={"reason": "A protest was right"})
    shown = await asking.message("results.announce")
    assert "- a question about the result was right (reason: " in shown.text and "The photo shows it" in shown.text


async def test_the_squads_own_result_carries_the_question_while_its_days_run(begin: Begin) -> None:
    asking, squads = await announced(begin)
    mine = await newest(asking, f"squad/{squads[0]}")
    assert "**Your result**" in mine.text and "press **Question about our result**." in mine.text
    question = button(mine, "Question about our result").key
    assert (await asking.form(question, CAPTAIN)).title == "Question about our result"
    assert "Your captain sends questions" in (await asking.message(question, CAPTAIN + 1)).text
    assert "press **Question about our result** in your squad's room" in (await asking.messages_to("news"))[-1]
    asking.now += timedelta(days=8)
    for who in (CAPTAIN, CAPTAIN + 1):
        over = (await asking.message(question, who)).text
        assert over == (
            "The days for questions about the result are over. "
            "You can still talk to your coach about it: that is always fine."
        )
    late = (await asking.message("protest.filed", CAPTAIN, fields=TEXT)).text
    assert late.startswith(f"You wrote:\n> {TEXT['text']}\n\nThe days for questions about the result are over.")


async def test_who_may_not_protest_and_when(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    assert "No result is announced right now" in (await asking.message("protest.ask", CAPTAIN)).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    assert "Your captain sends questions" in (await asking.message("protest.ask", CAPTAIN + 1)).text
    assert "20 to 1000" in (await asking.message("protest.filed", CAPTAIN, fields={"text": "Unfair!"})).text
    for _ in range(3):
        await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    assert (
        "3 questions of your squad about the result are open"
        in (await asking.message("protest.filed", CAPTAIN, fields=TEXT)).text
    )
    assert "3" in (await asking.message("protests.register", COACH)).text


async def test_an_open_offer_does_not_lapse_with_a_protest_open(begin: Begin) -> None:
    asking, squads = await announced(begin)
    await asking.ask(f"offer.made:{squads[0]}", fields={"what": "a place", "days": "1"})
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    await until(asking, asking.now + timedelta(days=3))
    assert "does not pass on yet" in (await asking.message("offer.lapsed:1")).text
    assert "cannot be offered" in (await asking.message(f"offer.made:{squads[1]}", fields={"days": "1"})).text


async def test_a_coach_writes_down_the_protest_of_a_squad_whose_captain_has_no_account(begin: Begin) -> None:
    asking, squads = await announced(begin)
    assert "captain" in (await asking.message("protests.for", values=(str(squads[0]),))).text
    async with asking.store.write() as db:
        await db.run("UPDATE student SET platform_id = NULL WHERE platform_id = ?", CAPTAIN)
    listed = await asking.message("protests.register")
    menu = next(row for row in listed.rows if isinstance(row, Select))
    assert [one.label for one in menu.choices] == ["Crooked Spoons"]
    form = await asking.form(menu.key, values=(menu.choices[0].value,))
    said = (await asking.message(form.key, fields=TEXT)).text
    assert "The question is in." in said and "Please tell the captain, who has no account here." in said
    assert "Your squad has asked for a check" in (await asking.messages_to(f"squad/{squads[0]}"))[-1]
    assert "**Crooked Spoons** has a question" in (await asking.messages_to("office"))[-1]
    await until(asking, asking.now + timedelta(days=8))
    refused = await asking.message(form.key, fields=TEXT)
    assert not refused.rows or "is in" not in refused.text
    menus = [row for row in (await asking.message("protests.register")).rows if isinstance(row, Select)]
    assert [row.prompt for row in menus] == ["Read one"]
    await asking.filled("protests.why:1:rejected", fields={"reason": "The photo shows it"})
    decided = await asking.message(button(await asking.message("protests.one:1", SECOND), "I agree").key, SECOND)
    assert "the room of **Crooked Spoons** says why. Please tell the captain" in decided.text


async def test_nobody_agrees_to_a_decision_that_was_changed_after_they_read_it(begin: Begin) -> None:
    asking, squads = await announced(begin)
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    await asking.filled("protests.why:1:rejected", fields={"reason": "The sock lay outside"})
    read = button(await asking.message("protests.one:1", SECOND), "I agree").key
    await asking.filled("protests.why:1:upheld", fields={"reason": "The photo shows it"})
    before = await asking.messages_to(f"squad/{squads[0]}")
    now = await asking.message(read, SECOND)
    assert "changed after you opened it" in now.text and "Reason: The photo shows it" in now.text
    assert await asking.messages_to(f"squad/{squads[0]}") == before
    assert "Upheld" in (await asking.message(button(now, "I agree").key, SECOND)).text


async def test_the_form_says_who_reads_the_reason_of_a_decision(begin: Begin) -> None:
    asking, _ = await announced(begin)
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    upheld, rejected = [await asking.form(f"protests.why:1:{verdict}") for verdict in ("upheld", "rejected")]
    assert "everyone with the corrected result" in upheld.fields[0].hint
    assert "everyone" not in rejected.fields[0].hint
