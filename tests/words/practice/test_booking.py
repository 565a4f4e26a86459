"""The words of practice turns: they fit whatever a plan and its squads hold, and say who has which turn."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.practice.practice_table import PracticeTable, slots
from bot.words.core.choices import PAGE
from bot.words.core.plain_text import escape
from bot.words.practice import all_turns_admin as office_words
from bot.words.practice import booking as words
from bot.words.practice import first_round_draw as draw_words
from bot.words.practice.cancelled_turns import told_moved
from storage.records.message import MESSAGE_LENGTH, Message, Select
from storage.records.plan import Calendar, Practice
from storage.records.practice import PracticeDraw, Turn
from tests.actions.conftest import small_plan
from tests.words.invented import squad

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


def picked_from(message: Message) -> int:
    return sum(len(row.choices) for row in message.rows if isinstance(row, Select))


@given(st.integers(1, 720), st.integers(1, 40), st.floats(0, 1))
@settings(max_examples=60, deadline=None)
def test_everything_fits_with_the_longest_names_and_the_longest_windows(number: int, squads: int, part: float) -> None:
    found = table(number, squads, round(part * number))
    # Forty letters that all need a backslash are the longest that a name can be.
    names = dict.fromkeys(range(1, squads + 1), "*" * 40)
    parts = words.boards(ZONE, found, names)
    assert sum(text.count("<t:") for text in parts) == number
    for page in range(len(parts)):
        words.board(parts, page)
        words.all_turns(parts, page)
    words.squads_turns(found, 1, open_now=True)
    told_moved(list(found.slots), START)
    teams = [squad(n, names[n]) for n in names]
    for page in range(-(-number // PAGE)):
        assert 1 <= picked_from(office_words.practice_panel(ZONE, found, teams, page)) <= PAGE
        assert 1 <= picked_from(words.pick(ZONE, found.slots, page)) <= PAGE
        assert 1 <= picked_from(words.pick_back(ZONE, found.slots, page)) <= PAGE
    for page in range(-(-squads // PAGE)):
        counted = [(team, len(found.held(team.id))) for team in teams]
        assert 1 <= picked_from(office_words.pick_squad(START, counted, page)) <= PAGE
    for begin in found.slots[:20]:
        for over in (False, True):
            text = office_words.turn_page(begin, found.by_begin.get(begin), names, over, "Done.").text
            assert len(text) <= MESSAGE_LENGTH


@given(st.integers(1, 80))
@settings(max_examples=20, deadline=None)
def test_the_lot_is_told_whole_however_many_squads_there_are(squads: int) -> None:
    pool = tuple(range(1, squads + 1))
    names = {number: f"{'_' * 37}{number:3}" for number in pool}
    source = Practice(times=PRACTICE.times, first_round="draw", key_source="d" * 100)
    waiting = PracticeDraw(tryout_id=1, pool=pool, published_at=START)
    before = "\n".join(message.text for message in draw_words.published(source, waiting, names))
    drawn = waiting.model_copy(update={"key": "1.2.4./", "drawn_at": START})
    after = "\n".join(message.text for message in draw_words.drawn(drawn, names))
    for number in pool:
        assert f"{number - 1}. " in before and before.count(escape(names[number])) == 1
        assert f"{number}. " in after and after.count(escape(names[number])) == 1
        draw_words.your_moment(drawn, number)
    draw_words.draw_form(source)


def test_every_page_of_the_turns_leads_to_every_turn_once() -> None:
    found = table(60, 3, 0)
    seen = [
        choice.value
        for page in range(3)
        for row in words.pick(ZONE, found.slots, page).rows
        if isinstance(row, Select)
        for choice in row.choices
    ]
    assert seen == [words.value(begin) for begin in found.slots]


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
    assert words.boards(ZONE, found, {1: "Crooked Spoons", 2: "M_M"}) == [
        "📅 **Turns at the practice table** (20 minutes each)\n"
        f"**Tue 12 Jan**: {clocks[0]} **Crooked Spoons**; {clocks[1]} **M\\_M** (lost)\n"
        f"**Wed 13 Jan**: {clocks[2]} closed; {clocks[3]} free"
    ]


def test_one_turn_and_several_are_told_apart() -> None:
    found = PracticeTable(PRACTICE, (START, START + timedelta(days=1)), (), (1,))
    assert "2 turns now" in words.squads_turns(found, 1, open_now=True).text
    one = PracticeTable(PRACTICE, (START,), (), (1,))
    assert "1 turn now" in words.squads_turns(one, 1, open_now=True).text
    assert "this turn" in told_moved([START], START).text
    assert "these turns" in told_moved([START, START], START).text
    assert "book another" not in told_moved([START], None).text


def test_the_brief_says_when_turns_are() -> None:
    about = words.about(Practice(times=(time(15, 40), time(12, 10))))
    assert "12:10 and 15:40, 20 minutes each" in about
