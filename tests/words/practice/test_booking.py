"""The words of practice turns: they fit whatever a plan and its squads hold, and say who has which turn."""

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.words.core.choices import PAGE
from bot.words.practice import all_turns_admin as office_words
from bot.words.practice import booking as words
from bot.words.practice import practice_table as table_words
from bot.words.practice.lost_closed_or_cancelled_turns import told_moved
from storage.records.message import MESSAGE_LENGTH, Message, Select
from tests.words.invented import squad
from tests.words.practice.test_practice_table import START, ZONE, table


def picked_from(message: Message) -> int:
    return sum(len(row.choices) for row in message.rows if isinstance(row, Select))


@given(st.integers(1, 720), st.integers(1, 40), st.floats(0, 1))
@settings(max_examples=60, deadline=None)
def test_everything_fits_with_the_longest_names_and_the_longest_windows(number: int, squads: int, part: float) -> None:
    found = table(number, squads, round(part * number))
    # Forty letters that all need a backslash are the longest that a name can be.
    names = dict.fromkeys(range(1, squads + 1), "*" * 40)
    parts = table_words.boards(ZONE, found, names)
    assert sum(text.count("<t:") for text in parts) == number
    for page in range(len(parts)):
        table_words.board(parts, page)
        table_words.all_turns(parts, page)
    table_words.squads_turns(found, 1, open_now=True)
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
