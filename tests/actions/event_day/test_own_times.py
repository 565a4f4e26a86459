"""What a squad reads of its own times."""

import re
from itertools import combinations

from bot.actions.event_day.own_times import judge_times, squad_times
from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import KEY, made, planned, slots
from tests.actions.practice_cast import card_text


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
