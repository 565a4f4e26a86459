"""The stopwatch measures between two presses, and is found again."""

from datetime import timedelta
from decimal import Decimal

from storage.tables import attempts
from tests.actions.conftest import Begin, button, small_plan
from tests.actions.table_help import add_squads, at_squad, labels, press, standing


async def test_the_stopwatch_measures_between_the_two_presses_after_the_safety_lines(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    ready = await press(asking, card, "Stopwatch")
    assert "- Clear, dry floor; no jumping." in ready.text
    running = await press(asking, ready, "All safe: start the clock")
    running = await press(asking, running, "One fault more")
    assert "Faults: **1**" in running.text
    asking.now += timedelta(seconds=89, milliseconds=437)
    back = await press(asking, running, "Stop the clock")
    assert "1:31.437 + 1 fault x 5 s = 1:36.437. Right?" in back.text
    assert "Saved" in (await press(asking, back, "Save")).text


async def test_a_clock_whose_message_was_lost_is_found_again_at_the_table(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    await press(asking, await press(asking, card, "Stopwatch"), "All safe: start the clock")
    asking.now += timedelta(seconds=60)
    found = await press(asking, await asking.message("table.panel"), "Clock of 1 Crooked Spoons")
    back = await press(asking, found, "Stop the clock")
    assert "1:03. Right?" in back.text
    cancelled = await press(asking, found, "Cancel the clock")
    assert "Nothing was recorded" in cancelled.text
    assert "Clock of 1 Crooked Spoons" not in labels(await asking.message("table.panel"))


async def test_a_clock_stopped_over_the_limit_reads_back_as_not_finished(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    running = await press(asking, await press(asking, card, "Stopwatch"), "All safe: start the clock")
    asking.now += timedelta(seconds=500)
    assert "over the limit of 8:00, so it did not finish" in (await press(asking, running, "Stop the clock")).text


async def test_the_time_of_the_presses_and_the_one_by_hand_are_both_kept(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    running = await press(asking, await press(asking, card, "Stopwatch"), "All safe: start the clock")
    asking.now += timedelta(seconds=99)
    back = await press(asking, running, "Stop the clock")
    assert "1:40. Right?" in back.text
    form = await asking.form(button(back, "Change it").key)
    both = await asking.message(form.key, fields={"time": "1:39.7", "faults": "0", "finished": "yes"})
    assert "By the presses 1:40, by hand 1:39.7; the plan says the press time counts." in both.text
    chosen = await press(asking, both, "The hand time counts")
    assert "1:39.7. Right?" in chosen.text
    assert "Now the **hand time** counts" in chosen.text
    await press(asking, chosen, "Save")
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        (made,) = await attempts.attempts(db, tryout.id)
    assert [str(one) for one in (made.seconds, made.press_seconds, made.hand_seconds)] == ["99.7", "100", "99.7"]


async def test_planning_time_runs_from_its_press_and_is_found_again(begin: Begin) -> None:
    events = list(small_plan().events)
    timed = events[2].measures[0].model_copy(update={"planning": Decimal(120)})
    events[2] = events[2].model_copy(update={"measures": (timed, *events[2].measures[1:])})
    asking = await begin("judging", events=tuple(events))
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    ready = await press(asking, card, "Stopwatch")
    assert "Planning time comes first: 2:00." in ready.text
    there = [part for row in ready.rows if isinstance(row, tuple) for part in row]
    assert [part.label for part in there if part.style in ("main", "good")] == ["Start the planning time"]
    planning = await press(asking, ready, "Start the planning time")
    end = int(asking.now.timestamp()) + 120
    assert f"**Planning time** ends at <t:{end}:T>" in planning.text
    assert f"<t:{end}:T>" in (await press(asking, card, "Stopwatch")).text


async def test_a_stop_without_a_start_is_refused_and_nothing_is_recorded(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 1)
    await asking.ask("surprise.start:chain")
    later = int((asking.now + timedelta(hours=1)).timestamp() * 1000)
    assert "no longer running" in (await asking.message(f"table.stop:chain.time:1:1:{later}:0")).text
    assert await standing(asking) == []
