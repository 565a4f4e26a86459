"""A surprise by waves: whoever is not in it learns nothing of it, wherever they look."""

from datetime import date, time

from storage.records.day_plan import DayPlan, Lesson
from storage.tables import helpers
from tests.actions.conftest import Asking, Begin, button
from tests.actions.table_help import add_judges, add_squads, at_squad, press, select

KEEPER = 801


def two_sections(same_hour: bool = False) -> DayPlan:
    lessons = (
        Lesson(section="7-A", begins=time(9), ends=time(10)),
        Lesson(section="7-B", begins=time(9 if same_hour else 11), ends=time(10 if same_hour else 12)),
    )
    return DayPlan(dates=(date(2027, 1, 22),), lessons=lessons)


async def two_classes(begin: Begin, same_hour: bool = False) -> Asking:
    """Squads 1 and 2 are of 7-A, squads 3 and 4 of 7-B."""
    asking = await begin("judging", event_day=two_sections(same_hour))
    await add_squads(asking, 4)
    await add_judges(asking, 2)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await db.run("UPDATE squad SET section = '7-B' WHERE id IN (3, 4)")
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
    return asking


async def start_for(asking: Asking, label: str, select_number: int = 0) -> str:
    """From the office to the start of a wave; what was asked before it."""
    asked = await asking.message("surprise.ask")
    waves = await press(asking, asked, "For some squads only")
    picks = [row for row in waves.rows if not isinstance(row, tuple)]
    chosen = next(one for one in picks[select_number].choices if one.label.startswith(label))  # type: ignore[union-attr]
    sure = await asking.message(picks[select_number].key, values=(chosen.value,))
    await asking.ask(button(sure, "All checked: start it for them").key)
    return sure.text


async def test_a_wave_is_told_in_its_rooms_and_nowhere_else(begin: Begin) -> None:
    asking = await two_classes(begin)
    sure = await start_for(asking, "7-A")
    assert "Our school's own rules come first" in sure
    assert "Careful" not in sure
    for squad, known in ((1, True), (2, True), (3, False), (4, False)):
        said = "".join(await asking.messages_to(f"squad/{squad}"))
        assert ("Paper chain" in said) == known, squad
    assert "".join(await asking.messages_to("news")) == ""


async def test_at_the_table_only_the_squads_of_the_wave_can_be_measured(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    card = await at_squad(asking, "chain.time", "1 Crooked Spoons")
    squads = await asking.message("table.squads:0:chain.time", KEEPER)
    assert [choice.label for choice in select(squads).choices] == ["1 Crooked Spoons", "2 Muddy Teapots"]
    assert (
        "The clock started"
        in (
            await press(
                asking, await press(asking, card, "Stopwatch", who=KEEPER), "All safe: start the clock", who=KEEPER
            )
        ).text
    )
    assert "Saved" not in (await asking.message("table.save:chain.time:3:1:-:0:90", KEEPER)).text


async def test_a_warning_where_squads_that_know_it_and_squads_that_do_not_may_share_a_room(begin: Begin) -> None:
    asking = await two_classes(begin)
    assert "Careful: 2 Muddy Teapots may sit in the same room" in await start_for(asking, "1 Crooked Spoons", 1)


async def test_sections_with_lessons_at_the_same_time_are_within_hearing_too(begin: Begin) -> None:
    asking = await two_classes(begin, same_hour=True)
    assert "3 Sleepy Turnips and 4 Drowsy Buttons may sit in the same room" in await start_for(asking, "7-A")


async def test_a_wave_stopped_half_way_goes_on_later_and_start_times_are_kept(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    await asking.ask("stop.done:chain", KEEPER, fields={"reason": "The fire bell rings."})
    stopped = await asking.message("table.start:chain.time:1:1", KEEPER)
    assert "is stopped: The fire bell rings." in stopped.text
    assert "Paper chain" not in "".join(await asking.messages_to("squad/3"))
    await asking.ask("stop.lift:chain")
    asked = await press(asking, await asking.message("surprise.ask"), "For some squads only")
    assert "It has started for: 1 Crooked Spoons" in asked.text
    await start_for(asking, "7-B")
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        rows = await db.rows("SELECT squad_id, started_at FROM surprise_wave ORDER BY squad_id")
    assert [row["squad_id"] for row in rows] == [1, 2, 3, 4]
    assert rows[0]["started_at"] < rows[2]["started_at"]
    assert tryout.state == "judging"


async def test_after_the_last_wave_everybody_reads_it_and_nobody_reads_it_twice(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    assert "These are the last" in await start_for(asking, "7-B")
    assert "Paper chain" in "".join(await asking.messages_to("news"))
    for squad in range(1, 5):
        tasks = [text for text in await asking.messages_to(f"squad/{squad}") if "The surprise starts now" in text]
        assert len(tasks) == 1, squad
    assert "no surprise" in (await asking.message("surprise.ask")).text


async def test_started_for_all_after_a_wave_tells_those_who_do_not_know_it_yet(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    await asking.ask("surprise.start:chain")
    for squad in range(1, 5):
        tasks = [text for text in await asking.messages_to(f"squad/{squad}") if "The surprise starts now" in text]
        assert len(tasks) == 1, squad


async def test_a_wave_starts_once_and_only_for_squads_there_are(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    for choice in ("section-0", "squad-1", "squad-99", "section-9", "section--1", "x"):
        assert "Pick squads for which it has not" in (await asking.message(f"wave.start:chain:{choice}")).text
    assert "no surprise" in (await asking.message("wave.ask:run")).text


async def test_judges_get_their_sheets_with_the_first_wave_and_once(begin: Begin) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    await start_for(asking, "7-B")
    async with asking.store.read() as db:
        sheets = await db.value("SELECT count(*) FROM sheet WHERE event = 'chain'")
        opened = await db.value("SELECT count(*) FROM judged_event WHERE event = 'chain'")
    # Two judges and four squads.
    assert (sheets, opened) == (8, 1)
