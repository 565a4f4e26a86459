"""What the paper kit holds, and what the sealed file leaves out."""

from bot.words.event_day.paper_kit import parts


def test_the_sealed_file_holds_what_is_filled_in_and_the_task_and_no_timetable_or_roster() -> None:
    assert parts(sealed=False) == ("timetable", "roster", "equipment", "run sheets", "score sheets", "text")
    assert parts(sealed=True) == ("equipment", "run sheets", "score sheets", "text")
