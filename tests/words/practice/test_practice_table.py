"""The practice table in words: the board says who has which turn, and the brief when they are."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import schedule
from bot.rules.practice.practice_table import PracticeTable, slots
from bot.words.practice import booking as words
from bot.words.practice import practice_table as table_words
from storage.records.plan import Calendar, Practice
from storage.records.practice import Turn
from tests.actions.conftest import small_plan

ZONE = ZoneInfo("America/New_York")

START = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)

PRACTICE = Practice(times=tuple(time(hour) for hour in range(7, 19)))


def table(number: int, squads: int, taken: int) -> PracticeTable:
    """So many turns for so many squads, of which so many are taken, lost or closed in turns."""
    begins = tuple(START + timedelta(hours=n) for n in range(number))
    turns = tuple(
        Turn(tryout_id=1, begins_at=begin, squad_id=None, state="blocked")
        if n % 7 == 6
        else Turn(tryout_id=1, begins_at=begin, squad_id=n % squads + 1, state="lost" if n % 5 == 4 else "held")
        for n, begin in enumerate(begins[:taken])
    )
    return PracticeTable(PRACTICE, begins, turns, tuple(range(1, squads + 1)))


def test_the_board_says_who_has_which_turn_a_line_a_day() -> None:
    plan = small_plan(
        practice=Practice(times=(time(12, 10), time(15, 40)), until_day=2),
        calendar=Calendar(brief=datetime(2027, 1, 11, 15, 30), counting="school"),  # noqa: DTZ001
    )
    begins = slots(plan, schedule(plan))
    assert plan.practice is not None
    turns = (
        Turn(tryout_id=1, begins_at=begins[0], squad_id=1, state="held"),
        Turn(tryout_id=1, begins_at=begins[1], squad_id=2, state="lost"),
        Turn(tryout_id=1, begins_at=begins[2], squad_id=None, state="blocked"),
    )
    found = PracticeTable(plan.practice, begins, turns, (1, 2))
    clocks = [f"<t:{words.value(begin)}:t>" for begin in begins]
    assert table_words.boards(ZONE, found, {1: "Crooked Spoons", 2: "M_M"}) == [
        "📅 **Turns at the practice table** (20 minutes each)\n"
        f"**Tue 12 Jan**: {clocks[0]} **Crooked Spoons**; {clocks[1]} **M\\_M** (lost)\n"
        f"**Wed 13 Jan**: {clocks[2]} closed; {clocks[3]} free"
    ]


def test_the_brief_says_when_practice_turns_are() -> None:
    about = table_words.practice_in_brief(Practice(times=(time(15, 40), time(12, 10))))
    assert "12:10 and 15:40, 20 minutes each" in about
