"""An announcement is taken back, and said again as corrected."""

from datetime import timedelta

import bot.actions.results.place_offers  # noqa: F401
from storage.tables import scheduled_jobs
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import until
from tests.actions.results.test_protests import CAPTAIN, SECOND, TEXT, announced
from tests.actions.scored import opened, preview, whole


async def test_an_announcement_is_taken_back_corrected_and_said_again_as_corrected(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    form = await asking.form(button(await preview(asking), "Take the announcement back").key)
    assert "what has to be checked" in (await asking.message(form.key, fields={"reason": " "})).text
    answer = await asking.message(form.key, fields={"reason": "one count was wrong"})
    assert answer.text.startswith("The announcement is taken back")
    assert "being checked again" in (await asking.messages_to("news"))[-1]
    assert "The reason: one count was wrong" in (await asking.messages_to("news"))[-1]
    await opened(asking, squads[1], "run.socks")
    await asking.ask(f"table.save:run.socks:{squads[1]}:2:20:0")
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    assert ": the corrected result**" in (await asking.messages_to("news"))[-1]
    assert "The place goes to **Muddy Teapots**." in (await asking.messages_to("news"))[-1]
    assert (await asking.messages_to(f"squad/{squads[1]}"))[-1].startswith(
        "🏁 **Your corrected result**: Muddy Teapots\nIt takes the place of the earlier one. "
        "What has changed: the total and Sock run.\n**Total: "
    )
    async with asking.store.read() as db:
        dues = [row for row in await scheduled_jobs.jobs_of(db, 1) if row.kind == "protests"]
    assert [row.state for row in dues] == ["cancelled", "waiting"]


async def test_a_final_announcement_stands_while_the_place_is_offered_or_taken(begin: Begin) -> None:
    asking, squads = await whole(begin, protest_days=0)
    assert "comes after the announcement" in (await asking.message("results.ask-back")).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    await asking.ask(f"offer.made:{squads[0]}", fields={"what": "the place", "days": "2"})
    assert "the announcement stands" in (await asking.message("results.ask-back")).text
    refused = await asking.message("results.taken-back", fields={"reason": "one count was wrong"})
    assert "the announcement stands" in refused.text
    assert (await asking.tryout()).state == "announced"


async def test_when_a_protest_was_right_the_offers_go_with_the_announcement(begin: Begin) -> None:
    asking, squads = await announced(begin)
    await asking.ask(f"offer.made:{squads[0]}", fields={"what": "a place", "days": "3"})
    await asking.ask("offer.accepted:1", CAPTAIN)
    async with asking.store.read() as db:
        other = await db.value("SELECT id FROM student WHERE squad_id = ? LIMIT 1", squads[1])
    await asking.ask("team.offered:open", values=(str(other),))
    await asking.ask("protest.filed", 10_200, fields=TEXT)
    await asking.filled("protests.why:1:upheld", fields={"reason": "The photo shows it"})
    await asking.ask(button(await asking.message("protests.one:1", SECOND), "I agree").key, SECOND)
    await until(asking, asking.now + timedelta(days=8))
    assert "take the announcement back" in "".join(await asking.messages_to("office"))
    waits = [text for text in await asking.messages_to(f"squad/{squads[0]}") if "still being looked at" in text]
    assert len(waits) == 1
    assert "Protests that are not settled: 1" in (await asking.message("tryout.archive")).text
    form = await asking.form("results.ask-back")
    assert "taken back too" in form.fields[0].hint
    await asking.ask(form.key, fields={"reason": "A protest was right"})
    for squad in squads[:2]:
        assert "did nothing wrong" in (await asking.messages_to(f"squad/{squad}"))[-1]
    assert "out of date" in (await asking.message("offer.accepted:1", CAPTAIN)).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    assert "Next in line: **Crooked Spoons**" in (await asking.message("offer.panel")).text
