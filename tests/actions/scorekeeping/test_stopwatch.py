"""The stopwatch measures between two presses, and is found again."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.table_help import add_squads, at_squad, labels, press


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
