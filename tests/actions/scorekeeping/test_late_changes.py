"""After judging is closed: what is missing is recorded and listed; what is on record is changed by two, or later."""

from bot.actions.results.listed_changes import plan_changes
from bot.words.results.listed_changes import change_lines
from storage.records.message import Message
from storage.tables import helpers, late_changes
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.scored import settle, whole

KEEPER, SECOND = 301, 302
REASON = {"reason": "Four socks were typed as fourteen"}
ABOUT = "run.socks"


async def closed(begin: Begin) -> tuple[Asking, list[int]]:
    """Judging is closed; there are a scorekeeper and a second coach."""
    asking, squads = await whole(begin)
    await with_helpers(asking)
    return asking, squads


async def with_helpers(asking: Asking) -> None:
    async with asking.store.write() as db:
        await helpers.add_officer(db, 1, KEEPER, "Kim", "scorekeeper")
        await helpers.add_officer(db, 1, SECOND, "Ms Bell", "coach")


async def changes(asking: Asking) -> str:
    """What is listed with the result."""
    async with asking.store.read() as db:
        return change_lines(await plan_changes(db, await asking.tryout()), 1000)


async def asked(asking: Asking, squad: int, who: int) -> Message:
    form = await asking.form(f"table.correct:{ABOUT}:{squad}", who)
    return await asking.message(form.key, who, fields=REASON)


async def asked_by_keeper(asking: Asking, squad: int) -> str:
    """A scorekeeper asks; the key of the office's button."""
    waits = await asked(asking, squad, KEEPER)
    assert "A coach has to agree first" in waits.text
    assert "Agree" not in str(waits.rows), "no button that would only say no"
    assert button(waits, "Look again").key == f"table.squad:{ABOUT}:{squad}"
    async with asking.store.read() as db:
        found = await late_changes.late_changes(db, 1)
    return f"table.correct-agreed:{found[-1].id}:{ABOUT}"


async def test_nobody_alone_changes_what_is_on_record_once_totals_can_be_seen(begin: Begin) -> None:
    asking, squads = await closed(begin)
    card = await asking.message(f"table.squad:{ABOUT}:{squads[0]}", KEEPER)
    shown = [part.label for row in card.rows if isinstance(row, tuple) for part in row]
    assert "Correct" in shown and not any(label.startswith(("Undo", "Enter", "Run pad")) for label in shown)
    for who in (KEEPER, COACH):
        for key in (
            "table.undo:1",
            "table.undone:1:slip",
            f"table.form:{ABOUT}:{squads[0]}:2",
            f"table.save:{ABOUT}:{squads[0]}:2:99:0",
            f"pad.open:{ABOUT}:{squads[0]}:2",
        ):
            refused = await asking.message(key, who)
            assert "is not changed by one person at once" in refused.text, key
            assert button(refused, "Correct").key == f"table.correct:{ABOUT}:{squads[0]}"
    said = await asking.message("table.score", KEEPER, fields={"measure": ABOUT, "squad": "1", "value": "9"})
    assert "is not changed by one person at once" in said.text
    assert "Nothing was changed since the brief" in await changes(asking)


async def test_a_scorekeeper_asks_a_coach_agrees_and_it_is_listed_with_the_reason(begin: Begin) -> None:
    asking, squads = await closed(begin)
    agree = await asked_by_keeper(asking, squads[0])
    assert "Only a coach" in (await asking.message(agree, KEEPER)).text
    assert REASON["reason"] in (await asking.messages_to("office"))[-1]
    assert "not changed by one person" in (await asking.message("table.undone:1:slip", KEEPER)).text
    assert "Undo attempt 1" in str((await asking.message(agree, COACH)).rows)
    assert "Undone" in (await asking.message("table.undone:1:slip", KEEPER)).text
    assert (await asking.message(f"table.save:{ABOUT}:{squads[0]}:1:4:0", KEEPER)).text.startswith("Saved.")
    other = await asking.message(f"table.save:{ABOUT}:{squads[1]}:2:4:0", KEEPER)
    assert "is not changed by one person at once" in other.text, "only what was agreed to"
    listed = await changes(asking)
    assert "what one squad has in Sock run was opened for correction after judging had been closed" in listed
    assert "Crooked Spoons" not in listed, "the squad that asked for a check is not named to everyone"
    assert REASON["reason"] in listed
    shown = await asking.message("results.announce")
    assert REASON["reason"] in shown.text, "the class reads it with the result"
    await asking.ask(button(shown, "Announce now").key)
    await asking.ask("results.taken-back", fields={"reason": "another count was wrong"})
    assert "is not changed by one person at once" in (await asking.message("table.undone:10:slip", KEEPER)).text
    assert "out of date" in (await asking.message(agree, SECOND)).text


async def test_a_coach_alone_has_to_wait_and_a_second_one_need_not(begin: Begin) -> None:
    asking, squads = await closed(begin)
    agree = button(await asked(asking, squads[0], COACH), "Agree: it may be corrected").key
    assert "A second coach can agree now" in (await asking.message(agree, COACH)).text
    assert "Undo attempt 1" in str((await asking.message(agree, SECOND)).rows)
    assert "out of date" in (await asking.message(agree, COACH)).text


async def test_what_was_asked_before_judging_was_opened_again_or_the_result_announced_is_over(begin: Begin) -> None:
    asking, squads = await closed(begin)
    agree = await asked_by_keeper(asking, squads[0])
    shown = await asking.message("results.announce")
    await asking.ask(button(shown, "Announce now").key)
    assert "nothing at the table changes any more" in (await asking.message(agree)).text
    await asking.ask("results.taken-back", fields={"reason": "a count was wrong"})
    assert "out of date" in (await asking.message(agree)).text


async def test_what_was_never_recorded_is_recorded_and_listed(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    await asking.ask("table.undone:1:slip")
    await settle(asking)
    assert (await asking.message(f"table.save:{ABOUT}:{squads[0]}:1:14:0")).text.startswith("Saved.")
    assert "Sock run of one squad was recorded after judging had been closed" in await changes(asking)
    assert "is not changed by one person at once" in (await asking.message("table.undone:10:slip")).text


async def test_an_absence_is_noted_and_listed_and_changed_by_two(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    await asking.ask("table.undone:1:slip")
    await settle(asking)
    await with_helpers(asking)
    noted = await asking.filled(f"table.absence:{ABOUT}:{squads[0]}", fields={"state": "absent", "reason": "ill"})
    assert "absent" in noted.text.lower()
    assert "Sock run of one squad was recorded after judging had been closed" in await changes(asking)
    here = {"state": "here", "reason": ""}
    refused = await asking.filled(f"table.absence:{ABOUT}:{squads[0]}", fields=here)
    assert "is not changed by one person at once" in refused.text
    await asking.ask(await asked_by_keeper(asking, squads[0]))
    assert "takes part" in (await asking.filled(f"table.absence:{ABOUT}:{squads[0]}", fields=here)).text


async def test_before_the_close_there_is_nothing_to_ask_for(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    assert "Judging is not closed" in (await asking.message(f"table.correct:{ABOUT}:{squads[0]}")).text
