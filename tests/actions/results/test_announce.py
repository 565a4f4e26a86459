"""The announcement: exactly what the coach has seen, said once, and to each squad its own."""

from datetime import timedelta

import pytest

import bot.actions.results.place_offers  # noqa: F401
from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.core.scheduled_jobs import ring
from bot.words.core.action_keys import ActionKey
from bot.words.results.own_result import BEGINS
from storage.records.message import Message, Say
from storage.records.request import Request
from storage.tables import audit_log, decisions, scheduled_jobs
from tests.actions.conftest import COACH, SERVER, Asking, Begin, button, small_plan
from tests.actions.office_cast import texts
from tests.actions.scored import opened, preview, settle, whole
from tests.actions.table_help import add_squads


async def tied(begin: Begin) -> tuple[Asking, list[int]]:
    """Two squads that are exactly equal in everything."""
    asking = await begin("judging", events=(small_plan().events[0],), tie_breaks=())
    squads = await add_squads(asking, 3)
    for squad, found in zip(squads, (9, 9, 4), strict=True):
        for number in (1, 2):
            await asking.ask(f"table.save:run.socks:{squad}:{number}:{found}:0")
    await settle(asking)
    return asking, squads


async def test_a_tie_for_the_last_place_stops_the_announcement_until_a_run_off_decides_it(begin: Begin) -> None:
    asking, squads = await tied(begin)
    message = await asking.message("results.announce")
    assert message.text.startswith("**Not yet.**")
    due = "**A run-off is due.** **Crooked Spoons** and **Muddy Teapots** are exactly equal, with 1 place left."
    assert due in message.text
    waiting = await preview(asking)
    assert "**No winner yet.**" in waiting.text and "**Winner" not in waiting.text
    assert button(waiting, "Announce").disabled and button(waiting, "Table").style == "main"
    before = waiting.text.split("**The table**\n")[1].split("\n")[0]
    await asking.ask(f"table.save:run.socks:{squads[0]}:r1:3:0")
    await asking.ask(f"table.save:run.socks:{squads[1]}:r1:4:0")
    text = (await preview(asking)).text
    assert "decided by run-off 1 (Sock run, Socks)." in text
    assert before.split("** ")[1] in text, "a run-off changes no total"
    said = await asking.message("results.announce")
    assert "The place goes to **Muddy Teapots**." in said.text


async def test_the_announcement_shows_what_will_be_said_and_says_exactly_that_once(begin: Begin) -> None:
    asking, squads = await whole(begin)
    shown = await asking.message("results.announce")
    assert shown.text.startswith(
        "**This will be said** in the news room (the winner with their points, and thanks, as the plan says)."
    )
    assert await asking.messages_to("news") == []
    asking.now -= timedelta(seconds=1)
    press = button(shown, "Announce now").key
    answer = await asking.message(press)
    assert answer.text.startswith("Announced.")
    (said,) = await asking.messages_to("news")
    assert shown.text.split("\n\n", 1)[1] == said
    assert (await asking.tryout()).state == "announced"
    assert "announced already" in (await asking.message(press)).text
    assert len(await asking.messages_to("news")) == 1
    for squad in squads:
        assert len(await asking.messages_to(f"squad/{squad}")) == 1


async def test_the_winner_alone_is_public_and_no_squad_reads_of_another(begin: Begin) -> None:
    asking, squads = await whole(begin)
    shown = await asking.message("results.announce")
    await asking.ask(button(shown, "Announce now").key)
    (said,) = await asking.messages_to("news")
    async with asking.store.read() as db:
        alt = await db.value(
            """SELECT json_extract(message_json, '$.files[0].alt') FROM outbox_message WHERE address = 'news'"""
        )
    assert "Crooked Spoons" in said and "Crooked Spoons" in alt
    for other in ("Muddy Teapots", "Sleepy Turnips", "Judge"):
        assert other not in said and other not in alt
    (own,) = await asking.messages_to(f"squad/{squads[1]}")
    assert own.startswith("🏁 **Your result**: Muddy Teapots")
    assert "13 socks x 10 = 130 points" in own
    assert "Written reasons: 2.5 of 4 (counts 2 times)\n" in own
    assert "place" not in own and "Judge" not in own and "Crooked Spoons" not in own


@pytest.mark.parametrize(("mode", "public"), [("podium", 3), ("table", 4)])
async def test_podium_and_table_show_what_the_plan_says(begin: Begin, mode: str, public: int) -> None:
    asking, _ = await whole(begin, 4, announce=mode)
    shown = await asking.message("results.announce")
    assert sum(line[:1].isdigit() for line in shown.text.split("\n")) == public


@pytest.mark.parametrize(("count", "thanks"), [(1, "Thank you to everybody who took part."), (2, "to all 2 squads.")])
async def test_one_squad_alone_is_not_called_all_squads(begin: Begin, count: int, thanks: str) -> None:
    asking, _ = await whole(begin, count)
    assert thanks in (await asking.message("results.announce")).text


async def test_squads_hear_their_own_result_before_or_with_the_class(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        rows = await db.rows("""SELECT address, not_before FROM outbox_message ORDER BY id""")
    assert [row["address"] for row in rows][3:] == ["news", "office"]
    assert len({row["not_before"] for row in rows}) == 1


async def test_scores_that_change_after_the_look_stop_the_announcement(begin: Begin) -> None:
    asking, squads = await whole(begin)
    press = button(await asking.message("results.announce"), "Announce now").key
    await opened(asking, squads[2], "run.socks")
    await asking.ask(f"table.save:run.socks:{squads[2]}:2:20:0")
    assert "has changed since you looked" in (await asking.message(press)).text
    assert await asking.messages_to("news") == []
    assert (await asking.tryout()).state == "settled"


async def test_so_does_a_decision_that_would_be_listed_and_was_not_shown(begin: Begin) -> None:
    asking, squads = await whole(begin)
    press = button(await asking.message("results.announce"), "Announce now").key
    async with asking.store.write() as db:
        await decisions.decide(db, 1, "seat", squads[1], None, "Nobody has read this yet", asking.now)
    assert "has changed since you looked" in (await asking.message(press)).text
    assert await asking.messages_to("news") == []
    shown = await asking.message("results.announce")
    assert "Nobody has read this yet" in shown.text
    assert (await asking.message(button(shown, "Announce now").key)).text.startswith("Announced.")


async def test_nothing_is_announced_while_judging_is_open_or_a_squad_cannot_be_ranked(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    assert "Judging is still open" in (await asking.message("results.announce")).text
    refused = await asking.message("results.announced:0000000000000000")
    assert "Something is missing before the announcement" in refused.text
    await asking.ask(f"table.undone:{3 * squads.index(squads[0]) + 1}:slip")
    await settle(asking)
    text = (await asking.message("results.announce")).text
    assert "Not ranked, because something is missing: Crooked Spoons" in text


async def test_a_repeated_press_of_announce_gets_the_first_answer(begin: Begin) -> None:
    asking, _ = await whole(begin)
    key = button(await asking.message("results.announce"), "Announce now").key
    args = (key.split(":")[1],)
    request = Request(id=5, at=asking.now, who=COACH, name="Coach", server_id=SERVER, args=args)
    first = await perform(asking.store, ACTIONS[ActionKey.RESULTS_ANNOUNCED], request)
    assert isinstance(first, Say) and first.message.text.startswith("Announced.")
    assert await perform(asking.store, ACTIONS[ActionKey.RESULTS_ANNOUNCED], request) == first


async def test_the_office_keeps_the_whole_result_and_the_digest_of_the_trail(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    (kept,) = await asking.messages_to("office")
    async with asking.store.read() as db:
        entries = await audit_log.entries(db)
        dues = await scheduled_jobs.jobs_of(db, 1)
    digests = [entry.digest for entry in entries if entry.action == "results.announce"]
    assert kept.endswith(f"The trail so far ends in {digests[0]}")
    assert [row.kind for row in dues if row.state == "waiting"] == ["protests", "purge"]
    await ring(asking.store, asking.now + timedelta(days=5))
    assert (await asking.messages_to("office"))[-1].startswith("The time for protests is over")


async def test_each_squad_gets_its_own_picture_that_says_its_own_numbers_only(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        (letter,) = await db.rows("""SELECT message_json FROM outbox_message WHERE address = ?""", f"squad/{squads[1]}")
    own = Message.model_validate_json(letter[0])
    (picture,) = own.files
    assert picture.data.startswith(b"\x89PNG") and picture.alt.startswith("Your result: Muddy Teapots. ")
    total = own.text.split("**Total: ")[1].split(" of")[0]
    assert f"Total {total} = " in picture.alt
    for points in [
        line.split(": ")[1].split(" of 100")[0] for line in own.text.split("\n") if " of 100 points," in line
    ]:
        assert f"{points} x " in picture.alt
    assert "Crooked Spoons" not in picture.alt and "Judge" not in picture.alt


async def test_each_squad_reads_whether_its_own_numbers_are_as_before(begin: Begin) -> None:
    asking, squads = await whole(begin)
    for _ in range(2):
        await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
        await asking.ask("results.taken-back", fields={"reason": "one count was wrong"})
    first, again = [text for text in await asking.messages_to(f"squad/{squads[0]}") if text.startswith(BEGINS)]
    assert "have not changed" not in first
    assert "\nIt takes the place of the earlier one. Your own numbers have not changed.\n**Total: " in again


async def crowded(begin: Begin, mode: str) -> Asking:
    """Thirty squads with the longest names, twenty-five places, and a plan that was changed often."""
    asking, squads = await whole(begin, 30, announce=mode, places=25)
    async with asking.store.write() as db:
        for number in squads:
            await db.run("UPDATE squad SET name = ? WHERE id = ?", f"{'x' * 36} {number:3}", number)
        for _ in range(8):
            await decisions.decide_plan(db, 1, ("y" * 300,), "a" * 64, "z" * 200, asking.now)
    return asking


@pytest.mark.parametrize("mode", ["winner", "podium", "table"])
async def test_however_many_places_and_long_names_there_are_the_announcement_fits(begin: Begin, mode: str) -> None:
    shown = await (await crowded(begin, mode)).message("results.announce")
    assert len(shown.text) <= 2000 and f"{'x' * 36}  25" in shown.text
    assert "more, for which there is no room here: ask your coach" in shown.text


async def test_however_many_places_and_long_names_there_are_all_of_it_is_said_and_offered(begin: Begin) -> None:
    """What is said by each choice of the plan is what was shown; the pictures for the squads take long to draw."""
    asking = await crowded(begin, "table")
    shown = await asking.message("results.announce")
    assert (await asking.message(button(shown, "Announce now").key)).text.startswith("Announced.")
    assert len(await asking.messages_to("news")) == 1
    assert len((await asking.message("offer.panel")).text) <= 2000


async def test_the_preview_names_squads_that_have_attempts_left(begin: Begin) -> None:
    asking, squads = await whole(begin)
    text = (await asking.message("results.announce")).text
    assert "**Attempts not used yet**, and not possible afterwards: Sock run, Socks: Crooked Spoons, Muddy" in text
    for squad in squads:
        await opened(asking, squad, "run.socks")
        await asking.ask(f"table.save:run.socks:{squad}:2:1:0")
    assert "Attempts not used" not in (await asking.message("results.announce")).text


async def test_the_office_reads_for_whom_the_result_has_to_be_printed(begin: Begin) -> None:
    asking, squads = await whole(begin, 3)
    async with asking.store.write() as db:
        await db.run("UPDATE student SET platform_id = NULL WHERE squad_id = ?", squads[0])
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    (told,) = [text for text in await asking.messages_to("office") if "**The result is announced.**" in text]
    assert "Nobody in **Crooked Spoons** has an account: print the squad's own result for them." in told
    card = await asking.message("people.squad", values=(str(squads[0]),))
    assert "Brief and notices on paper" in texts(card)
