"""The run pad: every tap is kept, two people add up, and nothing is lost over a restart or a second delivery."""

from datetime import timedelta
from decimal import Decimal
from pathlib import Path

from bot.actions.core.followers import unanswered
from bot.words.core.day_action_keys import DayKey
from storage.records.message import Message
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.store import Store
from storage.tables import audit_log, helpers
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, enter, labels, press, standing

KEEPER, SECOND = 801, 802


def timed_run(items: int = 1, most: int | None = None) -> dict[str, object]:
    """The robot run with a length, and perhaps several things to count."""
    names = ["Sock", *(f"Sock {number}" for number in range(1, items))]
    kinds = tuple(Item(key=name.lower().replace(" ", ""), name=name, most=most) for name in names)
    measure = Count(key="socks", name="Socks", items=kinds, scale="best", seconds=Decimal(150))
    run = Event(key="run", name="Sock run", weight=Decimal(40), measures=(measure,))
    return {"events": (run, *small_plan().events[1:])}


async def begun(begin: Begin, items: int = 1, most: int | None = None) -> tuple[Asking, Message]:
    asking = await begin("judging", **timed_run(items, most))
    await add_squads(asking, 2)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        for who in (KEEPER, SECOND):
            await helpers.add_officer(db, tryout.id, who, "Keeper", "scorekeeper")
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    return asking, await press(asking, card, "Run pad", who=KEEPER)


async def test_a_run_is_tapped_finished_counted_aloud_and_saved(begin: Begin) -> None:
    asking, pad = await begun(begin)
    pad = await press(asking, pad, "Start the clock", who=KEEPER)
    assert "Ends at **<t:" in pad.text
    assert "Start the clock" not in labels(pad)
    for _ in range(3):
        pad = await press(asking, pad, "+1 Sock", who=KEEPER)
    pad = await press(asking, pad, "-1", who=KEEPER)
    assert "Sock **2**" in pad.text
    back = await press(asking, pad, "Finish", who=KEEPER)
    assert "2 socks x 10 = 20 points." in back.text
    assert "count aloud together with the squad" in back.text
    saved = await press(asking, back, "Counted aloud, agreed: save", who=KEEPER)
    assert "Saved" in saved.text
    assert await standing(asking) == ["1 run.socks 1"]
    assert "That run is over" in (await press(asking, pad, "+1 Sock", who=KEEPER)).text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        entry = (await audit_log.entries(db, tryout.id))[-1]
    assert (entry.action, entry.details["agreed"]) == ("table.save", True)


async def test_two_people_on_one_pad_add_up_and_each_undoes_the_own_tap(begin: Begin) -> None:
    asking, pad = await begun(begin)
    same = await press(asking, await at_squad(asking, "run.socks", "1 Crooked Spoons"), "Run pad", who=SECOND)
    assert button(same, "+1 Sock").key == button(pad, "+1 Sock").key
    await press(asking, pad, "+1 Sock", who=KEEPER)
    shown = await press(asking, same, "+1 Sock", who=SECOND)
    assert "Sock **2**" in shown.text
    assert "2 people tap on this pad; it adds up." in shown.text
    shown = await press(asking, pad, "Undo my last", who=KEEPER)
    assert "Sock **1**" in shown.text
    assert "nothing of yours to undo" in (await press(asking, pad, "Undo my last", who=KEEPER)).text


async def test_a_restart_in_mid_run_loses_neither_taps_nor_clock(begin: Begin, tmp_path: Path) -> None:
    asking, pad = await begun(begin)
    started = await press(asking, pad, "Start the clock", who=KEEPER)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    # The file as another process finds it: opened anew, with no word from the one that wrote it.
    async with Store.open(tmp_path / "tenbell.db", durable=False) as store:
        after = Asking(store, asking.now, asking.last_id)
        found = await press(
            after, await after.message("table.panel", KEEPER), "Run pad of 1 Crooked Spoons", who=KEEPER
        )
        assert "Sock **1**" in found.text
        assert _clock_line(found) == _clock_line(started)


async def test_start_pressed_twice_keeps_the_first_start(begin: Begin) -> None:
    asking, pad = await begun(begin)
    first = await press(asking, pad, "Start the clock", who=KEEPER)
    asking.now += timedelta(seconds=9)
    second = await press(asking, pad, "Start the clock", who=SECOND)
    assert "running already" in second.text
    assert _clock_line(first) == _clock_line(second)


async def test_a_run_without_a_start_can_be_finished_and_says_so(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    assert "clock of this run was not started" in (await press(asking, pad, "Finish", who=KEEPER)).text


async def test_taps_after_the_end_are_told_before_the_count_is_saved(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "Start the clock", who=KEEPER)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    asking.now += timedelta(seconds=170)
    shown = await press(asking, pad, "+1 Sock", who=KEEPER)
    assert "**Time is up**" in shown.text
    assert "**1 tap came after the end**" in (await press(asking, pad, "Finish", who=KEEPER)).text


async def test_interrupted_by_something_of_ours_gives_the_same_attempt_again(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "Start the clock", who=KEEPER)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    sure = await press(asking, pad, "Our fault: run again", who=KEEPER)
    fresh = await press(asking, sure, "Ours: run again", who=KEEPER)
    assert "attempt 1 of 2" in fresh.text
    assert "Sock **0**" in fresh.text
    assert "Start the clock" in labels(fresh)
    assert "That run is over" in (await press(asking, pad, "+1 Sock", who=SECOND)).text
    assert await standing(asking) == []


async def test_a_count_that_changed_after_it_was_read_back_is_not_saved_unseen(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    back = await press(asking, pad, "Finish", who=KEEPER)
    await press(asking, pad, "+1 Sock", who=SECOND)
    again = await press(asking, back, "Counted aloud, agreed: save", who=KEEPER)
    assert "The count has changed meanwhile" in again.text
    assert await standing(asking) == []


async def test_typing_the_total_stays_possible_and_closes_the_pad(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    form = await asking.form(button(await press(asking, pad, "Finish", who=KEEPER), "Change it").key)
    back = await asking.message(form.key, fields={"item-sock": "4", "deductions": "5"})
    assert "4 socks x 10 - 5 = 35 points" in back.text
    await press(asking, back, "Save")
    assert "That run is over" in (await press(asking, pad, "+1 Sock", who=KEEPER)).text
    card = await at_squad(asking, "run.socks", "1 Crooked Spoons")
    await press(asking, await enter(asking, card, "Enter attempt 2 of 2", **{"item-sock": "1"}), "Save")
    assert await standing(asking) == ["1 run.socks 1", "1 run.socks 2"]


async def test_none_is_taken_off_where_none_was_counted_and_more_than_there_are_is_said(begin: Begin) -> None:
    asking, pad = await begun(begin, most=1)
    assert "none to take off" in (await press(asking, pad, "-1", who=KEEPER)).text
    await press(asking, pad, "+1 Sock", who=KEEPER)
    assert "There is only 1 sock." in (await press(asking, pad, "+1 Sock", who=KEEPER)).text


async def test_more_than_there_are_makes_changing_it_the_filled_button(begin: Begin) -> None:
    asking, pad = await begun(begin, most=1)
    usual = await press(asking, pad, "Finish", who=KEEPER)
    assert (button(usual, "Counted aloud, agreed: save").style, button(usual, "Change it").style) == ("good", "plain")
    for _ in range(2):
        await press(asking, pad, "+1 Sock", who=KEEPER)
    doubtful = await press(asking, pad, "Finish", who=KEEPER)
    assert "press **Change it**" in doubtful.text
    assert (button(doubtful, "Counted aloud, agreed: save").style, button(doubtful, "Change it").style) == (
        "plain", "main",
    )  # fmt: skip


async def test_two_scorekeepers_at_two_tables_do_not_cross(begin: Begin) -> None:
    asking, pad = await begun(begin)
    other = await press(asking, await at_squad(asking, "run.socks", "2 Muddy Teapots"), "Run pad", who=SECOND)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    shown = await press(asking, other, "+1 Sock", who=SECOND)
    assert "2 Muddy Teapots" in shown.text
    assert "Sock **1**" in shown.text


async def test_a_pad_with_five_things_to_count_fits_one_message(begin: Begin) -> None:
    _, pad = await begun(begin, items=5)
    assert len(pad.rows) == 5
    assert max(len(row) for row in pad.rows if isinstance(row, tuple)) == 4


async def test_a_squad_taken_out_in_mid_run_has_a_closed_pad(begin: Begin) -> None:
    asking, pad = await begun(begin)
    await press(asking, pad, "+1 Sock", who=KEEPER)
    await asking.ask("people.withdrawn:1", fields={"reason": "They moved away."})
    assert "That run is over" in (await press(asking, pad, "+1 Sock", who=KEEPER)).text


def _clock_line(message: Message) -> str:
    return next(line for line in message.text.splitlines() if line.startswith("Started at"))


async def test_a_press_whose_answer_got_lost_counts_and_the_pad_says_so_until_it_is_undone(begin: Begin) -> None:
    asking, pad = await begun(begin)
    pad = await press(asking, pad, "+1 Sock", who=KEEPER)
    await unanswered(asking.store, DayKey.PAD_TAP, KEEPER, asking.now)
    pad = await press(asking, pad, "+1 Sock", who=KEEPER)
    assert "1 press came through late and counts" in pad.text
    assert "1 press came through late" in (await press(asking, pad, "Finish", who=KEEPER)).text
    pad = await press(asking, pad, "Undo my last", who=KEEPER)
    await unanswered(asking.store, DayKey.PAD_UNDO, KEEPER, asking.now)
    assert "2 presses came through late and count" in (await press(asking, pad, "Refresh", who=KEEPER)).text
    pad = await press(asking, pad, "Undo my last", who=KEEPER)
    # The late tap is undone; the undoing that looked like a failure still matters.
    assert "1 press came through late" in pad.text
