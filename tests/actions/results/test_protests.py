"""Protests: filed by the captain, decided by two coaches, and nothing is final with one open."""

from datetime import timedelta

from storage.records.request import Person
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


async def test_two_coaches_decide_and_the_corrected_result_says_why(begin: Begin) -> None:
    asking, squads = await announced(begin)
    mine = await asking.message("squad.mine", CAPTAIN)
    form = await asking.form(button(mine, "Protest").key, CAPTAIN)
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
    assert "upheld: The photo shows it" in (await asking.messages_to(f"squad/{squads[0]}"))[-1]
    assert "decided already" in (await asking.message("protests.agreed:1", SECOND)).text
    await asking.ask("results.taken-back", fields={"reason": "A protest was right"})
    shown = await asking.message("results.announce")
    assert "was upheld" in shown.text and "The photo shows it" in shown.text


async def test_nothing_becomes_final_with_a_protest_open(begin: Begin) -> None:
    asking, _ = await announced(begin)
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    await until(asking, asking.now + timedelta(days=8))
    told = await asking.messages_to("office")
    assert any("1 protest is open" in text for text in told) and not any("result is final" in text for text in told)
    asked = await asking.message("tryout.archive")
    assert "not decided" in asked.text
    await asking.ask("protests.proposed:1:rejected", fields={"reason": "The count was confirmed"})
    await asking.ask("protests.agreed:1", SECOND)
    assert "the result is final" in (await asking.messages_to("office"))[-1]
    assert "time for protests is over" in (await asking.message("protest.ask", CAPTAIN)).text


async def test_who_may_not_protest_and_when(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    assert "Nothing is announced" in (await asking.message("protest.ask", CAPTAIN)).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    assert "Only the captain" in (await asking.message("protest.ask", CAPTAIN + 1)).text
    assert "20 to 1000" in (await asking.message("protest.filed", CAPTAIN, fields={"text": "Unfair!"})).text
    for _ in range(3):
        await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    assert "3 protests open" in (await asking.message("protest.filed", CAPTAIN, fields=TEXT)).text
    assert "3" in (await asking.message("protests.register", COACH)).text
