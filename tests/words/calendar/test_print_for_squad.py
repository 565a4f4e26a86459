"""What a squad without phones gets on paper."""

from zoneinfo import ZoneInfo

from bot.words.calendar.print_for_squad import on_paper


def test_on_paper_people_stand_by_their_names() -> None:
    said = on_paper("<@11>, <@!12> and <@13>: look into <#99>.", ZoneInfo("UTC"), {11: "Ann", 12: "Bob"})
    assert said == "Ann, Bob and somebody: look into the room on the class server."
