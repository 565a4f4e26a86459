"""The announcement at a time of day: said once, at its time, and only what the coach has seen."""

from datetime import UTC, datetime, timedelta

from storage.tables import decisions
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import off_until, until
from tests.actions.scored import opened, whole

AT = datetime(2027, 1, 4, 20, 20, tzinfo=UTC)  # 15:20 in New York


async def planned(asking: Asking, clock: str = "15:20") -> str:
    shown = await asking.message("results.announce")
    form = await asking.form(button(shown, "Announce at a time").key)
    return (await asking.message(form.key, fields={"time": clock})).text


async def office(asking: Asking) -> str:
    return "\n".join(await asking.messages_to("office"))


async def test_it_is_said_at_its_time_and_once(begin: Begin) -> None:
    asking, squads = await whole(begin)
    assert f"<t:{int(AT.timestamp())}:F>" in await planned(asking)
    await until(asking, AT - timedelta(minutes=1))
    assert await asking.messages_to("news") == []
    await until(asking, AT)
    (said,) = await asking.messages_to("news")
    assert "The place goes to **Crooked Spoons**." in said
    assert len(await asking.messages_to(f"squad/{squads[0]}")) == 1
    tryout = await asking.tryout()
    assert tryout.state == "announced" and tryout.announced_at == AT
    await until(asking, AT + timedelta(days=2))
    assert len(await asking.messages_to("news")) == 1


async def test_a_time_that_is_past_means_tomorrow_and_a_wrong_one_is_asked_again(begin: Begin) -> None:
    asking, _ = await whole(begin)
    tomorrow = datetime(2027, 1, 5, 13, 0, tzinfo=UTC)
    assert f"<t:{int(tomorrow.timestamp())}:F>" in await planned(asking, "8:00")
    assert "25:00" in await planned(asking, "25:00")


async def test_who_plans_it_for_the_quiet_hours_reads_so(begin: Begin) -> None:
    asking, _ = await whole(begin)
    assert "quiet hours**, in which I remind nobody. Better take a time" in await planned(asking, "23:30")
    assert "quiet hours" not in await planned(asking, "15:20")


async def test_what_has_changed_since_is_not_said_and_the_office_reads_so(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await planned(asking)
    await opened(asking, squads[2], "run.socks")
    await asking.ask(f"table.save:run.socks:{squads[2]}:2:9:0")
    await until(asking, AT)
    assert await asking.messages_to("news") == []
    assert "**The result was not announced**: a score, the plan or a decision has changed" in await office(asking)


async def test_nor_is_a_decision_that_the_coach_has_not_seen_in_it(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await planned(asking)
    async with asking.store.write() as db:
        await decisions.decide(db, 1, "seat", squads[1], None, "Nobody has read this yet", asking.now)
    await until(asking, AT)
    assert await asking.messages_to("news") == []
    assert "or a decision has changed" in await office(asking)


async def test_the_coach_stops_it_plans_it_anew_or_announces_before(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await planned(asking)
    await asking.ask("results.not-planned")
    await until(asking, AT)
    assert await asking.messages_to("news") == []
    await planned(asking, "16:00")
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    await until(asking, AT + timedelta(hours=2))
    assert len(await asking.messages_to("news")) == 1 and "not announced" not in await office(asking)


async def test_late_it_says_nothing_by_itself(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await planned(asking)
    asking.now = AT + timedelta(hours=3)
    await until(asking, asking.now)
    assert await asking.messages_to("news") == []
    assert "I was off at its time" in await office(asking)


async def test_a_plan_that_was_missed_can_be_made_again_for_the_very_same_result(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await planned(asking)
    await off_until(asking, AT + timedelta(hours=1))
    assert await asking.messages_to("news") == []
    assert "<t:" in await planned(asking, "17:30")
    await until(asking, AT + timedelta(hours=3))
    assert len(await asking.messages_to("news")) == 1
