"""When a result is final: after the days for protests, and with none open."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import bot.actions.results.announce
import bot.actions.results.feedback
import bot.actions.results.place_offers  # noqa: F401
from bot.actions.core.scheduled_jobs import ring
from bot.rules.results.protests import protest_ends
from storage.tables import tryouts
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import until
from tests.actions.results.test_place_offers import announced as three_squads
from tests.actions.results.test_place_offers import captain_of, offer
from tests.actions.results.test_protests import CAPTAIN, SECOND, TEXT, announced, newest
from tests.actions.scored import whole


async def test_the_standings_say_until_when_they_are_provisional_and_when_they_are_final(begin: Begin) -> None:
    asking, _ = await announced(begin)
    ends = protest_ends((await asking.tryout()).plan, asking.now)
    shown = (await asking.message("results.panel")).text
    assert f"**Provisional** until <t:{int(ends.timestamp())}:F>: until then" in shown
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    assert "**Not final:** 1 protest not settled." in (await asking.message("results.panel")).text
    await asking.filled("protests.why:1:rejected", fields={"reason": "The photo shows it"})
    await asking.ask(button(await asking.message("protests.one:1", SECOND), "I agree").key, SECOND)
    asking.now = ends
    shown = (await asking.message("results.panel")).text
    assert "**Final:**" in shown and "rovisional** until" not in shown


async def test_a_final_result_offers_no_question(begin: Begin) -> None:
    asking, squads = await whole(begin, 3, protest_days=0)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    mine = await newest(asking, f"squad/{squads[0]}")
    assert "This result is final at once." in mine.text and mine.rows == ()


async def test_a_day_that_is_closed_meanwhile_puts_off_when_the_result_is_final(begin: Begin) -> None:
    asking, _ = await announced(begin)
    tryout = await asking.tryout()
    assert tryout.announced_at is not None
    until = protest_ends(tryout.plan, tryout.announced_at)
    last = until.astimezone(ZoneInfo(tryout.plan.zone)).date()
    calendar = tryout.plan.calendar.model_copy(update={"closed": (*tryout.plan.calendar.closed, last)})
    plan = tryout.plan.model_copy(update={"calendar": calendar})
    async with asking.store.write() as db:
        await tryouts.set_plan(db, tryout.id, plan)
    await ring(asking.store, until)
    assert not any("result is final" in text for text in await asking.messages_to("office"))
    await ring(asking.store, protest_ends(plan, tryout.announced_at))
    assert "the result is final" in (await asking.messages_to("office"))[-1]


async def test_a_result_that_was_corrected_after_its_days_becomes_final_in_its_turn(begin: Begin) -> None:
    asking, _ = await announced(begin)
    for times in (1, 2):
        await until(asking, asking.now + timedelta(days=10))
        final = [text for text in await asking.messages_to("office") if "the result is final" in text]
        assert len(final) == times
        await asking.ask("results.taken-back", fields={"reason": "A sum was wrong"})
        await asking.ask(button(await asking.message("results.announce"), "Announce now").key)


async def test_nothing_becomes_final_with_a_protest_open(begin: Begin) -> None:
    asking, _ = await announced(begin)
    await asking.ask("protest.filed", CAPTAIN, fields=TEXT)
    await until(asking, asking.now + timedelta(days=8))
    told = await asking.messages_to("office")
    assert any("1 protest is open" in text for text in told) and not any("result is final" in text for text in told)
    assert not any("result is final" in text for text in await asking.messages_to("news"))
    asked = await asking.message("tryout.archive")
    assert "not settled: 1" in asked.text
    await asking.filled("protests.why:1:rejected", fields={"reason": "The count was confirmed"})
    await asking.ask(button(await asking.message("protests.one:1", SECOND), "I agree").key, SECOND)
    assert "the result is final" in (await asking.messages_to("office"))[-1]
    assert sum("the result is final now" in text for text in await asking.messages_to("news")) == 1
    final = next(text for text in await asking.messages_to("news") if "the result is final now" in text)
    assert "you would read so here" in final, (
        "a coach can still take it back while no place is given, and everyone reads so"
    )
    assert "The days for questions about the result are over." in (await asking.message("protest.ask", CAPTAIN)).text


async def test_no_place_is_given_for_good_with_a_protest_open(begin: Begin) -> None:
    """A yes counts and waits; nobody passes on; the squad reads what is so at each step."""
    asking, squads = await announced(begin)
    await asking.ask(f"offer.made:{squads[0]}", fields={"what": "a place", "days": "2"})
    room = f"squad/{squads[0]}"
    assert "The place is not sure before" in (await asking.messages_to(room))[-1]
    await asking.ask("protest.filed", 10_200, fields=TEXT)
    said = await asking.message("offer.accepted:1", CAPTAIN)
    assert "looked at once more" in said.text and "not sure yet" in said.text
    assert "said yes" in (await asking.messages_to(room))[-1] and "yours" not in (await asking.messages_to(room))[-1]
    await until(asking, asking.now + timedelta(days=8))
    assert "still being looked at" in (await asking.messages_to(room))[-1]
    assert "**Not final**: 1 protest not settled" in (await asking.message("offer.panel")).text
    await asking.filled("protests.why:1:rejected", fields={"reason": "The count was confirmed"})
    await asking.ask(button(await asking.message("protests.one:1", SECOND), "I agree").key, SECOND)
    assert "the place is yours" in (await asking.messages_to(room))[-1]
    assert "The result is final." in (await asking.message("offer.panel")).text
    assert "announcement stands" in (await asking.message("results.ask-back")).text


async def test_when_the_result_is_final_who_has_not_answered_yet_reads_so_too(begin: Begin) -> None:
    asking, ids = await three_squads(begin)
    await offer(asking, ids[0], "5")
    assert "I will tell you how it ends" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    async with asking.store.read() as db:
        other = await db.value("SELECT id FROM student WHERE squad_id = ? LIMIT 1", ids[1])
    await asking.ask(f"team.offered:open:{other}", fields={"days": "5"})
    await ring(asking.store, asking.now + timedelta(days=3))
    for squad in ids[:2]:
        assert "sure as soon as you say yes" in (await asking.messages_to(f"squad/{squad}"))[-1]
    assert not any("sure as soon as" in text for text in await asking.messages_to(f"squad/{ids[2]}"))
    office = (await asking.messages_to("office"))[-1]
    assert office.endswith("reads so. 2 squad rooms read that the place offered there is sure with a yes.")


async def test_without_days_for_protests_a_yes_is_final_at_once(begin: Begin) -> None:
    asking, ids = await three_squads(begin, protest_days=0)
    made = await offer(asking, ids[0])
    assert "not sure" not in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    answer = await asking.message(f"offer.accepted:{made}", await captain_of(asking, ids[0]))
    assert answer.text.startswith("You have accepted the place.")
    assert "**accepted** the place" in (await asking.messages_to(f"squad/{ids[0]}"))[-1]
