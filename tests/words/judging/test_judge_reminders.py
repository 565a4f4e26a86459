"""The reminder to a judge counts sheets, and squads where they are fewer."""

from bot.words.judging.judge_reminders import still_open
from tests.words.invented import squad
from tests.words.judging.longest_sheets import EVENTS, JUDGES, NOW, entry


def test_a_judge_who_owes_several_sheets_of_a_squad_reads_how_many_squads_they_are_for() -> None:
    squads = [squad(number, f"Squad {number}") for number in (1, 2)]
    one, two = ([entry(JUDGES[0], each, about, "open") for each in squads] for about in EVENTS[:2])
    first, both = (still_open(owed, NOW, False).text.split("\n")[0] for owed in (one, one + two))
    assert first.endswith("Still open: 2 of your 2 sheets: Squad 1, Squad 2.")
    assert both.endswith("Still open: 4 of your 4 sheets, for 2 squads: Squad 1, Squad 2.")
