"""A squad that is too small: the coach waits until a day, is reminded, and decides; nothing happens by itself."""

from datetime import UTC, datetime, timedelta

from storage.records.message import SelectField
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.squads.test_students_admin import decisions, entered, student_id

AFTER_BRIEF = datetime(2027, 1, 12, 15, 0, tzinfo=UTC)
END = datetime(2027, 1, 14, 20, 30, tzinfo=UTC)
"""The end of the second school day after it, at the time of day of the brief."""


async def small(begin: Begin) -> tuple[Asking, int]:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 2, "Crooked Spoons")
    await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, AFTER_BRIEF)
    asking.now = AFTER_BRIEF
    return asking, squad


async def wait(asking: Asking, squad: int, day: str = "2027-01-14") -> str:
    form = await asking.form(f"grace.ask:{squad}")
    return (await asking.message(form.key, fields={"until": day, "reason": "Two more want to join"})).text


async def test_the_coach_picks_one_of_the_next_school_days(begin: Begin) -> None:
    asking, squad = await small(begin)
    card = await asking.message("people.squad", values=(str(squad),))
    form = await asking.form(button(card, "Wait for more members").key)
    days = form.fields[0]
    assert isinstance(days, SelectField) and len(days.choices) == 10
    assert days.choices[0].value == "2027-01-12" and "2027-01-16" not in [one.value for one in days.choices]
    for wrong in ("2027-01-16", "soon", "2026-01-01"):
        answer = await asking.message(form.key, fields={"until": wrong, "reason": "Two more want to join"})
        assert "Pick a school day" in answer.text
    assert "reason" in (await asking.message(form.key, fields={"until": "2027-01-14"})).text
    assert await decisions(asking) == []
    page = await wait(asking, squad)
    assert f"Time to find members: until <t:{int(END.timestamp())}:F>" in page
    assert await decisions(asking) == [("grace", squad, None, "Two more want to join")]
    office = (await asking.message("office")).text
    assert "These still have time to find members: Crooked Spoons." in office and "Too small" not in office
    told = (await asking.messages_to(f"squad/{squad}"))[-1]
    assert "needs 1 more member." in told and f"<t:{int(END.timestamp())}:F>" in told


async def test_the_coach_is_reminded_and_asked_to_decide_and_nothing_happens_to_the_squad(begin: Begin) -> None:
    asking, squad = await small(begin)
    await wait(asking, squad)
    await until(asking, END - timedelta(hours=20))
    assert "has 2 members, and you wait until" in (await asking.messages_to("office"))[-1]
    told = await asking.messages_to(f"squad/{squad}")
    await until(asking, END)
    asked = [text for text in await asking.messages_to("office") if "Please decide" in text]
    assert len(asked) == 1 and "**Crooked Spoons**; it has 2" in asked[0]
    assert not any("decide" in text for text in (await asking.messages_to(f"squad/{squad}"))[len(told) :])
    page = await asking.message(f"coach-squad.look:{squad}")
    assert texts(page)[:4] == ["Wait for more members", "Let it be small", "Merge", "Take the squad out"]


async def test_a_squad_that_found_somebody_is_not_asked_about(begin: Begin) -> None:
    asking, squad = await small(begin)
    await wait(asking, squad)
    await entered(asking, "Ann")
    await asking.ask(f"people.placed:{await student_id(asking, 'Ann')}", values=(str(squad),))
    await until(asking, END)
    assert not [text for text in await asking.messages_to("office") if "you wait until" in text or "decide" in text]
    assert "large enough" in (await asking.message(f"grace.ask:{squad}")).text


async def test_another_day_takes_the_place_of_the_first(begin: Begin) -> None:
    asking, squad = await small(begin)
    await wait(asking, squad)
    await wait(asking, squad, "2027-01-18")
    await until(asking, END + timedelta(hours=1))
    assert not any("Please decide" in text for text in await asking.messages_to("office"))
    await until(asking, END + timedelta(days=5))
    assert sum("Please decide" in text for text in await asking.messages_to("office")) == 1


async def test_a_squad_that_may_be_small_or_is_out_is_not_asked_about(begin: Begin) -> None:
    asking, squad = await small(begin)
    await wait(asking, squad)
    await asking.ask(f"people.smalled:{squad}", fields={"reason": "Nobody else is left"})
    await until(asking, END)
    assert not [text for text in await asking.messages_to("office") if "you wait until" in text or "decide" in text]


async def test_a_day_that_was_closed_meanwhile_does_not_count(begin: Begin) -> None:
    asking, squad = await small(begin)
    await wait(asking, squad)
    fields = {"first": "2027-01-14", "last": "", "reason": "Snow on the roads"}
    await asking.ask(button(await asking.message("days.closed", fields=fields), "Yes, change it").key)
    await until(asking, END)
    assert not any("Please decide" in text for text in await asking.messages_to("office"))
    later = int((END + timedelta(days=1)).timestamp())
    room = (await asking.messages_to(f"squad/{squad}"))[-1]
    assert f"Your coach waits until <t:{later}:F>" in room and room.endswith("Nothing happens by itself.")
    await until(asking, END + timedelta(days=1))
    assert sum("Please decide" in text for text in await asking.messages_to("office")) == 1


async def test_a_small_squad_is_allowed_for_a_reason_and_no_longer_nagged(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 2, "Muddy Teapots")
    card = await asking.message("people.squad", values=(str(moles),))
    form = await asking.form(button(card, "Let it be small").key)
    after = await asking.message(form.key, fields={"reason": "Small section"})
    assert "Let it be small" not in texts(after)
    assert "Too small" not in (await asking.message("office")).text
    assert "large enough" in (await asking.message(form.key, fields={"reason": "Again"})).text
    assert len(await decisions(asking)) == 1
