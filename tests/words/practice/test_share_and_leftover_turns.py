"""What a squad reads of the turns that it may still book."""

from dataclasses import replace
from datetime import timedelta

from bot.rules.practice.practice_table import PracticeTable
from bot.words.practice import practice_table as table_words
from bot.words.practice import share_and_leftover_turns as words
from storage.records.practice import Turn
from tests.words.practice.test_practice_table import PRACTICE, START


def test_one_turn_and_several_are_told_apart() -> None:
    found = PracticeTable(PRACTICE, (START, START + timedelta(days=1)), (), (1,))
    assert "2 turns now" in table_words.squads_turns(found, 1, open_now=True).text
    one = PracticeTable(PRACTICE, (START,), (), (1,))
    assert "1 turn now" in table_words.squads_turns(one, 1, open_now=True).text
    before = START - timedelta(days=1)
    assert words.more_turns(found, 1, before) == "You can book 2 turns now."
    held = replace(found, turns=(Turn(tryout_id=1, begins_at=START, squad_id=1, state="held"),))
    assert words.more_turns(held, 1, before) == "You can book 1 more turn now."
