"""Feedback that squads got for a result which is corrected."""

from datetime import timedelta

import bot.actions.results.place_offers  # noqa: F401
from tests.actions.conftest import Begin, button
from tests.actions.scored import whole


async def test_after_a_corrected_result_feedback_is_sent_again_where_it_says_something_else(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    first, second, third = squads[:3]
    await asking.filled(f"feedback.edit:{third}", fields={"text": "You listened to each other. Well done!"})
    asking.now += timedelta(minutes=5)
    await asking.ask(button(await asking.message("feedback.all:0"), "Send all").key)
    sent = {squad: (await asking.messages_to(f"squad/{squad}"))[-1] for squad in squads}
    await asking.ask("results.taken-back", fields={"reason": "one count was wrong"})
    async with asking.store.write() as db:  # as when a judge opens a sheet again
        marks = '{"reasons": 1, "theme": 4}'
        await db.run("UPDATE sheet SET marks_json = ? WHERE squad_id = ? AND event = 'bunting'", marks, second)
    said = await asking.message(button(await asking.message("results.announce"), "Announce now").key)
    assert "The feedback that 2 squads got was for the earlier result." in said.text
    texts = (await asking.message("feedback.all:0")).text
    assert "Muddy Teapots" in texts and "You listened to each other" in texts and "Crooked Spoons" not in texts
    await asking.ask(button(await asking.message("feedback.all:0"), "Send all").key)
    assert (await asking.messages_to(f"squad/{first}"))[-1].startswith("🏁 **Your corrected result**")
    assert (await asking.messages_to(f"squad/{second}"))[-1] != sent[second]
    assert "Feedback for Muddy Teapots" in (await asking.messages_to(f"squad/{second}"))[-1]
    assert (await asking.messages_to(f"squad/{third}"))[-1] == sent[third]
