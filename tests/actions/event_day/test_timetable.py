"""The timetable: made outside the write lock, or why not; squads and judges read their times."""

from datetime import date, time, timedelta

from bot.actions.core.dispatch import ACTIONS, perform
from bot.rules.squads.names import name_keys
from bot.words.core.day_action_keys import DayKey
from storage.records.day_plan import Lesson
from storage.records.request import Request
from storage.tables import squads, tryouts
from tests.actions.conftest import COACH, SERVER, Begin
from tests.actions.event_day.day_cast import KEY, made, planned, slots


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
