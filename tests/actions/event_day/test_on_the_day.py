"""On the day: the board, calls, squads that are not there, and changes that are told only to those concerned."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

import icalendar

from storage.records.day_timetable import DaySlot
from storage.tables import helpers
from tests.actions.conftest import Asking, Begin
from tests.actions.core.test_stale_buttons import selects
from tests.actions.event_day.day_cast import NINE, made, press, slots
from tests.actions.office_cast import until
from tests.actions.practice_cast import card_text
from tests.actions.table_help import labels

KEEPER = 801


async def save(asking: Asking, slot: DaySlot, number: int) -> None:
    await asking.ask(f"table.save:run.socks:{slot.squad_id}:{number}:4:0")


async def calls(asking: Asking, squad: int) -> list[str]:
    return [
        text for text in await asking.messages_to(f"squad/{squad}") if "**It is your" in text or "**You are" in text
    ]


def line_time(slot: DaySlot) -> int:
    return int(slot.begins_at.timestamp())


async def test_the_first_three_are_called_in_time_and_each_of_them_once(begin: Begin) -> None:
    asking = await made(begin)
    await until(asking, NINE - timedelta(minutes=10))
    order = [slot.squad_id for slot in await slots(asking)]
    said = [(await calls(asking, squad))[0].split("**")[1] for squad in dict.fromkeys(order[:3])]
    assert said == [f"You are {place} in line" for place in ("first", "second", "third")][: len(said)]
    asked = ["Please be there" in (await calls(asking, squad))[0] for squad in dict.fromkeys(order[:3])]
    assert asked == [True, False, False][: len(asked)]
    await until(asking, NINE - timedelta(minutes=9))
    assert [len(await calls(asking, squad)) for squad in order[:4]].count(1) == 3


async def test_a_squad_reads_that_it_is_called_to_its_runs_and_not_to_an_interview(begin: Begin) -> None:
    asking = await made(begin)
    squad = (await slots(asking, "interview"))[0].squad_id
    text = await card_text(asking, f"day/{squad}")
    assert "You are called here when it is nearly your turn to run" in text
    assert "Nobody is called to an interview" in text


async def test_without_interviews_nothing_is_said_about_them(begin: Begin) -> None:
    asking = await made(begin, judges=0)
    text = await card_text(asking, f"day/{(await slots(asking))[0].squad_id}")
    assert "You are called here" in text and "interview" not in text


async def test_a_saved_attempt_moves_the_board_on_and_calls_the_next(begin: Begin) -> None:
    asking = await made(begin)
    await until(asking, NINE)
    runs = await slots(asking)
    board = await asking.message("day.board")
    assert f"**on** {runs[0].squad_id} " in board.text
    fourth = runs[3].squad_id
    before = len(await calls(asking, fourth))
    asking.now = NINE + timedelta(minutes=4)
    await save(asking, runs[0], 1)
    board = await press(asking, board, "Refresh")
    assert f"**on** {runs[1].squad_id} " in board.text
    assert "1 of 8 runs done." in board.text
    assert len(await calls(asking, fourth)) == before + 1


async def test_a_squad_that_is_not_there_comes_last_once_and_then_the_coach_decides(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    runs = await slots(asking)
    first = runs[0]
    board = await asking.message("day.board")
    number = first.squad_id
    sure = await press(asking, board, f"Not here: {number}")
    assert [slot.id for slot in await slots(asking)] == [slot.id for slot in runs]
    assert labels(sure) == ["Back to the board", "It is not here"]
    said = await press(asking, sure, "It is not here")
    assert "comes last of its section now" in said.text
    after = await slots(asking)
    assert after[-1].id == first.id
    assert [slot.begins_at for slot in after] == [slot.begins_at for slot in runs]
    why, changed = (await asking.messages_to(f"squad/{first.squad_id}"))[-2:]
    assert "You still get this run" in why
    assert "Your times have changed" in changed
    # What is the first run now is held against what was the first run before.
    old = [line_time(slot) for slot in runs if slot.squad_id == first.squad_id]
    new = [line_time(slot) for slot in after if slot.squad_id == first.squad_id]
    for number, (was, now) in enumerate(zip(old, new, strict=True), 1):
        (line,) = [one for one in changed.split("\n") if f"Sock run, run {number}" in one]
        assert (f"(**before: <t:{was}:t>**)" in line) == (was != now) and f"<t:{now}:" in line
    # The same board pressed once more, as on a bad line, is the same absence.
    assert "comes last" not in (await press(asking, sure, "It is not here")).text
    assert [slot.misses for slot in await slots(asking) if slot.id == first.id] == [1]
    asking.now = after[-1].begins_at
    again = await asking.message(f"day.missed:{first.id}:1")
    assert "the coach decides" in again.text
    told = (await asking.messages_to("office"))[-1]
    assert "was not here twice for Sock run" in told
    room = [text for text in await asking.messages_to(f"squad/{first.squad_id}") if "Please go to your coach" in text]
    assert len(room) == 1 and "<@" in room[0]
    await asking.ask(f"day.closed:{first.id}")
    last = (await slots(asking))[-1]
    assert (last.id, last.closed_at) == (first.id, None)


async def test_nobody_is_late_before_the_time_that_the_squad_was_told(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    first = (await slots(asking))[0]
    asking.now = first.begins_at - timedelta(minutes=1)
    for key in (f"day.ask-missed:{first.id}", f"day.missed:{first.id}:0"):
        refused = (await asking.message(key)).text
        assert f"Its time is <t:{line_time(first)}:t>. Before that it is not late" in refused
    assert [slot.misses for slot in await slots(asking)] == [0] * 8
    assert not any("not at the table" in text for text in await asking.messages_to(f"squad/{first.squad_id}"))
    asking.now = first.begins_at
    assert "comes last of its section" in (await asking.message(f"day.missed:{first.id}:0")).text


async def test_two_tables_have_their_own_squads_and_a_press_at_one_leaves_the_other_alone(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0, tables=2)
    asking.now = NINE
    runs = await slots(asking)
    at = {table: [slot for slot in runs if slot.table_number == table] for table in (1, 2)}
    board = await asking.message("day.board")
    assert "**Table 1**" in board.text
    assert "**Table 2**" in board.text
    await asking.ask(f"day.missed:{at[1][0].id}")
    assert [s.id for s in await slots(asking) if s.table_number == 2] == [s.id for s in at[2]]


async def test_later_moves_everything_to_come_and_nothing_that_is_over(begin: Begin) -> None:
    asking = await made(begin)
    asking.now = NINE + timedelta(minutes=4)
    before = {slot.id: slot.begins_at for slot in (*await slots(asking), *await slots(asking, "interview"))}
    first = (await slots(asking))[0]
    await save(asking, first, 1)
    form = await asking.form("day.later")
    said = await asking.message(form.key, fields={"minutes": "15"})
    assert "have been told" in said.text
    for slot in (*await slots(asking), *await slots(asking, "interview")):
        by = timedelta() if slot.id == first.id else timedelta(minutes=15)
        assert slot.begins_at - before[slot.id] == by
    assert "whole minutes" in (await asking.message(form.key, fields={"minutes": "soon"})).text


async def test_a_swap_tells_the_two_squads_and_nobody_else(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    runs = await slots(asking)
    one = runs[0]
    other = next(slot for slot in runs[1:] if slot.squad_id != one.squad_id)
    heard = {squad: len(await asking.messages_to(f"squad/{squad}")) for squad in range(1, 5)}
    shown = await asking.message("day.slot", values=(str(one.id),))
    assert "Pick another one to swap times with" in shown.text
    said = await asking.message(selects(shown)[0].key, values=(str(other.id),))
    assert "2 squads had other times" in said.text
    now = {slot.id: slot.begins_at for slot in await slots(asking)}
    assert (now[one.id], now[other.id]) == (other.begins_at, one.begins_at)
    told = {
        squad
        for squad in heard
        if "times have changed" in "".join((await asking.messages_to(f"squad/{squad}"))[heard[squad] :])
    }
    assert told == {one.squad_id, other.squad_id}


async def test_a_swap_that_would_put_somebody_into_two_places_is_refused(begin: Begin) -> None:
    asking = await made(begin, 4)
    runs, talks = await slots(asking), await slots(asking, "interview")
    busy = next(
        (run, other)
        for run in runs
        for other in runs
        for talk in talks
        if other.squad_id != run.squad_id == talk.squad_id
        and talk.begins_at < other.ends_at
        and other.begins_at < talk.ends_at
    )
    shown = await asking.message(f"day.slot:{busy[0].id}")
    said = await asking.message(selects(shown)[0].key, values=(str(busy[1].id),))
    assert "two places at once" in said.text
    assert "run can swap with a run" in (await asking.message(selects(shown)[0].key, values=(str(talks[0].id),))).text


async def test_a_snow_day_moves_the_timetable_by_the_clock_on_the_wall_and_tells_the_squads(begin: Begin) -> None:
    asking = await made(begin)
    before = [slot.begins_at for slot in await slots(asking)]
    plan = (await asking.tryout()).plan
    assert plan.event_day is not None
    typed = {"dates": "2027-03-15", "lessons": "7-A 9:00-10:30", "breaks": "", "numbers": "1, 5, 10, 3, lesson"}
    asked = await asking.filled("day.plan", fields={**typed, "reason": "Snow on the day."})
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    after = [slot.begins_at for slot in await slots(asking)]
    zone = ZoneInfo("America/New_York")
    # On 15 March 2027 the clocks have gone forward: nine o'clock is one hour earlier in UTC.
    assert [at.astimezone(zone).time() for at in after] == [at.astimezone(zone).time() for at in before]
    assert {at.astimezone(zone).date() for at in after} == {date(2027, 3, 15)}
    assert after[0] - before[0] == timedelta(days=52, hours=-1)
    assert "Your times have changed" in (await asking.messages_to("squad/1"))[-1]


async def test_a_day_closed_for_snow_moves_the_timetable_to_the_next_school_day_and_tells_everyone(
    begin: Begin,
) -> None:
    asking = await made(begin)
    before = [slot.begins_at for slot in await slots(asking)]
    asked = await asking.message("days.closed", fields={"first": "2027-01-22", "last": "", "reason": "Snow"})
    assert "event day" in asked.text.casefold()
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    # The 22nd was a Friday; the next school day is Monday.
    assert [slot.begins_at - timedelta(days=3) for slot in await slots(asking)] == before
    for squad in range(1, 5):
        assert "Your times have changed" in (await asking.messages_to(f"squad/{squad}"))[-1]


async def test_other_lessons_are_said_in_the_office_because_the_timetable_was_made_from_the_old_ones(
    begin: Begin,
) -> None:
    asking = await made(begin)
    typed = {"dates": "2027-01-22", "lessons": "7-A 11:00-12:30", "breaks": "", "numbers": "1, 5, 10, 3, lesson"}
    asked = await asking.filled("day.plan", fields={**typed, "reason": "The room is taken."})
    await press(asking, asked, next(label for label in labels(asked) if "hange" in label))
    assert "press **Make it again**" in (await asking.messages_to("office"))[-1]
    await asking.ask("day.make")
    assert all(slot.begins_at >= NINE + timedelta(hours=2) for slot in await slots(asking))


async def test_a_scorekeeper_sees_the_board_and_moves_nobody(begin: Begin) -> None:
    asking = await made(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
    table = await asking.message("table.panel", KEEPER)
    board = await press(asking, table, "Who is next", who=KEEPER)
    assert sum(label.startswith("Not here: ") for label in labels(board)) >= 1
    opened = await press(asking, board, next(label for label in labels(board) if label.startswith("Open ")), who=KEEPER)
    assert "Run pad" in labels(opened)
    assert "Only a coach" in (await asking.message("day.later", KEEPER)).text


async def test_calendar_files_hold_the_times_of_all_for_the_coach_and_of_one_squad_for_its_members(
    begin: Begin,
) -> None:
    asking = await made(begin)
    for key, who, count in (("day.calendar", 100, 12), ("day.my-calendar", 10_100, 3)):
        (file,) = (await asking.message(key, who)).files
        events = icalendar.Calendar.from_ical(file.data).walk("VEVENT")
        assert len(events) == count
        begins = sorted(event.decoded("DTSTART") for event in events)
        mine = [s for s in (*await slots(asking), *await slots(asking, "interview")) if count == 12 or s.squad_id == 1]
        assert begins == sorted(slot.begins_at for slot in mine)


async def test_an_absent_squad_is_passed_over(begin: Begin) -> None:
    asking = await made(begin, 3, judges=0)
    asking.now = NINE
    first = (await slots(asking))[0]
    await asking.filled(f"table.absence:run.socks:{first.squad_id}", fields={"state": "absent", "reason": ""})
    assert f"**on** {first.squad_id} " not in (await asking.message("day.board")).text


async def test_after_a_saved_run_the_next_squad_of_the_timetable_is_one_press_away(begin: Begin) -> None:
    asking = await made(begin, 4, judges=0)
    asking.now = NINE
    for place in range(3):
        runs = await slots(asking)
        saved = await asking.message(f"table.save:run.socks:{runs[place].squad_id}:{1}:4:0")
        following = runs[place + 1].squad_id
        assert any(label.startswith(f"Next: {following} ") for label in labels(saved)), place


async def test_a_squad_that_runs_twice_in_a_row_is_told_so_once(begin: Begin) -> None:
    asking = await made(begin, 1, judges=0)
    asking.now = NINE
    assert [one.squad_id for one in await slots(asking)] == [1, 1]
    assert labels(await asking.message("table.save:run.socks:1:1:4:0")) == [
        "Attempt 2 of the same squad", "Undo", "All squads",
    ]  # fmt: skip
    assert "Attempt 2 of the same squad" not in labels(await asking.message("table.save:run.socks:1:2:4:0"))


async def test_where_a_table_has_nobody_left_the_next_step_is_the_board_and_no_squad_of_the_other_table(
    begin: Begin,
) -> None:
    asking = await made(begin, 4, judges=0, tables=2)
    asking.now = NINE
    at_one = [slot for slot in await slots(asking) if slot.table_number == 1]
    left = [f"table.save:run.socks:{slot.squad_id}:{slot.number}:4:0" for slot in at_one]
    saved = [await asking.message(key) for key in left]
    assert labels(saved[-1])[0] == "Who is next"
    others = {slot.squad_id for slot in await slots(asking) if slot.table_number == 2}
    assert not [
        label
        for message in saved
        for label in labels(message)
        if label.startswith(tuple(f"Next: {one} " for one in others))
    ]
    assert "**Table 1**" not in (await press(asking, saved[-1], "Who is next")).text
