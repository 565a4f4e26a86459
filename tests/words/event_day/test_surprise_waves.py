"""Who still does not know the surprise, one squad or several."""

from bot.words.event_day import surprise_waves
from tests.words.judging.longest_sheets import EVENTS, SQUADS


def test_one_squad_does_and_two_squads_do_not_know_it_yet() -> None:
    said = [surprise_waves.started(EVENTS[0], SQUADS[:1], left).text.split("squad. ")[1] for left in (0, 1, 2)]
    assert said == ["Everybody has it now.", "1 squad still does not know it.", "2 squads still do not know it."]
