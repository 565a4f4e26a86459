"""The timetable: made outside the write lock, or why not; squads and judges read their times."""

import re
from datetime import date, time, timedelta
from itertools import combinations

from bot.actions.core.dispatch import ACTIONS, perform
from bot.actions.event_day.own_times import judge_times, squad_times
from bot.rules.squads.names import name_keys
from bot.words.core.day_action_keys import DayKey
from storage.records.day_plan import Lesson
from storage.records.request import Request
from storage.tables import panels, squads, tryouts
from tests.actions.conftest import COACH, SERVER, Begin
from tests.actions.event_day.day_cast import KEY, made, planned, slots
from tests.actions.table_help import add_judges, add_squads


async def test_squads_read_their_own_times_only_and_judges_their_interviews(begin: Begin) -> None:
    asking = await made(begin)
    runs, talks = await slots(asking), await slots(asking, "interview")
    assert len(runs) == 8
    assert len(talks) == 4
    for one, other in combinations([*runs, *talks], 2):
        overlap = one.begins_at < other.ends_at and other.begins_at < one.ends_at
        assert not overlap or not (set(one.judges) & set(other.judges) or one.squad_id == other.squad_id)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        card, judge = await squad_times(db, tryout, "day/1"), await judge_times(db, tryout, "day-judge/1")
    assert card is not None
    assert judge is not None
    mine = [slot for slot in (*runs, *talks) if slot.squad_id == 1]
    assert sorted(re.findall(r"<t:(\d+):F>", card.text)) == sorted(str(int(s.begins_at.timestamp())) for s in mine)
    assert judge.text.count("<t:") == 4
    assert "Crooked Spoons" not in card.text


async def test_before_they_are_told_squads_see_nothing(begin: Begin) -> None:
    asking = await planned(begin)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    await asking.ask("day.make")
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await squad_times(db, tryout, "day/1") is None
    assert await asking.messages_to("squad/1") == []
    assert "no timetable yet" in (await asking.message("day.my-calendar", 10_100)).text


async def test_an_impossible_day_says_which_limit_binds_and_changes_nothing(begin: Begin) -> None:
    asking = await planned(begin, 10, tables=1, run_minutes=10, interview_minutes=0)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    said = await asking.message("day.make")
    assert "There is no timetable without a clash" in said.text
    # Ten squads, two runs each, ten minutes a run: 200 minutes; the lesson has 90.
    assert "take 200 minutes, and the tables have 90" in said.text
    assert await slots(asking) == []


async def test_a_surprise_has_no_place_in_the_timetable(begin: Begin) -> None:
    asking = await made(begin)
    assert {slot.event for slot in (*await slots(asking), *await slots(asking, "interview"))} == {"run", "bunting"}


async def test_a_squad_that_is_taken_out_leaves_the_timetable_and_its_order_stays(begin: Begin) -> None:
    asking = await made(begin)
    before = [slot.squad_id for slot in await slots(asking)]
    await asking.ask("people.withdrawn:2", fields={"reason": "They moved away."})
    assert [slot.squad_id for slot in await slots(asking)] == [squad for squad in before if squad != 2]
    board = await asking.message("day.board")
    assert "Muddy Teapots" not in board.text


async def test_a_squad_that_came_later_is_named_and_gets_a_time_when_it_is_made_anew(begin: Begin) -> None:
    asking = await made(begin, 3)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        late = await squads.add_squad(
            db, tryout.id, "Late Lamps", name_keys("Late Lamps"), "7-A", "LATE", asking.now + timedelta(seconds=1)
        )
    assert "Not in the timetable: Late Lamps." in (await asking.message("day.panel")).text
    others = len(await asking.messages_to("squad/1"))
    await asking.ask("day.make")
    assert late in {slot.squad_id for slot in await slots(asking)}
    assert "Your times have changed" in (await asking.messages_to(f"squad/{late}"))[-1]
    assert len(await asking.messages_to("squad/1")) - others <= 1


async def test_a_timetable_is_made_outside_the_write_lock(begin: Begin) -> None:
    """While the solver works, others write: the work of the action is what `before` returns, and runs in a thread."""
    asking = await planned(begin)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    action = ACTIONS[DayKey.DAY_MAKE]
    assert action.before is not None
    request = Request(id=9, at=asking.now, who=COACH, name="C", server_id=SERVER, manages_server=True)
    async with asking.store.read() as db:
        work = await action.before(db, await asking.tryout(), request)
    async with asking.store.write():
        assert work().slots is not None
    await perform(asking.store, action, request)
    assert len(await slots(asking)) == 8


async def test_the_plan_of_the_day_is_changed_by_form_with_a_reason(begin: Begin) -> None:
    asking = await begin("drafting")
    assert "The plan says nothing" not in (await asking.message("day.panel")).text
    form = await asking.form("day.plan")
    assert [field.key for field in form.fields] == ["dates", "lessons", "breaks", "numbers"]
    typed = {
        "dates": "2027-01-22, 2027-01-25",
        "lessons": "7-A 9:00-9:45\n7-B 2027-01-25 10:00-10:45",
        "breaks": "9:20-9:25",
        "numbers": "2, 6, 8, 2, day",
    }
    await asking.ask(form.key, fields=typed)
    day = (await asking.tryout()).plan.event_day
    assert day is not None
    assert (day.tables, day.run_minutes, day.interview_minutes, day.change_minutes, day.interviews) == (
        2,
        6,
        8,
        2,
        "day",
    )
    assert [(one.section, str(one.begins), str(one.date)) for one in day.lessons] == [
        ("7-A", "09:00:00", "None"),
        ("7-B", "10:00:00", "2027-01-25"),
    ]
    wrong = await asking.filled("day.plan", fields={"dates": "soon", "lessons": "9-9", "breaks": "x", "numbers": "2"})
    for sentence in ("as a date", "this lesson", "this break", "five things"):
        assert sentence in wrong.text


async def test_without_a_plan_of_the_day_everything_else_works_and_the_page_asks_for_one(begin: Begin) -> None:
    asking = await begin("window")
    await add_squads(asking, 1)
    await add_judges(asking, 1)
    assert "says nothing about it yet" in (await asking.message("day.panel")).text
    assert "no event day yet" in (await asking.message("day.make")).text
    saved = await asking.message("table.save:run.socks:1:1:4:0")
    assert "Saved" in saved.text


async def test_interviews_wait_until_judges_are_shared_out_where_not_all_see_all(begin: Begin) -> None:
    asking = await planned(begin, 4, judges=3)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await panels.set_size(db, tryout.id, "bunting", "bunting", 2)
        await panels.replace_seats(db, tryout.id, "bunting", "bunting", [])
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    said = await asking.message("day.make")
    assert "Share the judges out first" in said.text
    await asking.ask("panels.compute:bunting:bunting")
    await asking.ask("day.make")
    assert [len(slot.judges) for slot in await slots(asking, "interview")] == [2, 2, 2, 2]


async def test_only_judges_who_have_agreed_to_messages_are_written_to(begin: Begin) -> None:
    asking = await planned(begin, 4, judges=2)
    await asking.ask("sheets.start", 201)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    await asking.ask("day.make")
    await asking.ask("day.tell")
    async with asking.store.read() as db:
        rows = await db.rows("SELECT key FROM live_message WHERE key GLOB 'day-judge/*'")
    assert [row["key"] for row in rows] == ["day-judge/1"]


async def test_a_day_with_more_possible_times_than_can_be_looked_through_is_refused_at_once(begin: Begin) -> None:
    """Runs of a minute in lessons of a whole day: it took minutes, and a gigabyte."""
    lessons = tuple(Lesson(section="7-A", begins=time(8), ends=time(15), date=date(2027, 1, 18 + n)) for n in range(5))
    dates = tuple(date(2027, 1, 18 + n) for n in range(5))
    asking = await planned(begin, 20, 0, dates=dates, lessons=lessons, run_minutes=1, interview_minutes=0)
    async with asking.store.write() as db:
        many = (await asking.tryout()).plan
        run = many.events[0].measures[0].model_copy(update={"attempts": 10})
        event = many.events[0].model_copy(update={"measures": (run,)})
        await tryouts.set_plan(db, 1, many.model_copy(update={"events": (event, *many.events[1:])}))
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    said = await asking.message("day.make")
    assert "more times at which these runs could begin than I can look through" in said.text
