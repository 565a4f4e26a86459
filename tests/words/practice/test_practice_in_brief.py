"""What the brief says of practice turns."""

from datetime import time

from bot.words.practice.practice_in_brief import practice_in_brief
from storage.records.plan import Practice


def test_the_brief_says_when_practice_turns_are() -> None:
    about = practice_in_brief(Practice(times=(time(15, 40), time(12, 10))))
    assert "12:10 and 15:40, 20 minutes each" in about
