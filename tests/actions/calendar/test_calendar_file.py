"""The dates of a try-out as a file for the coach's own calendar."""

from datetime import timedelta

import bot.actions.calendar.calendar_file  # noqa: F401
from storage.records.message import Say
from tests.actions.conftest import Begin


async def test_the_coach_gets_the_dates_as_a_calendar_whose_next_version_replaces_it(begin: Begin) -> None:
    asking = await begin("drafting")
    files = []
    for _ in range(2):
        answer = await asking.ask("plan.calendar")
        assert isinstance(answer, Say)
        files.append(answer.message.files[0].data.decode())
        asking.now += timedelta(minutes=5)
    versions = [int(text.split("SEQUENCE:")[1].split()[0]) for text in files]
    assert versions[0] < versions[1]
    assert "DTSTART:20270111T203000Z" in files[0]
    assert files[0].split("UID:")[1].split()[0] == files[1].split("UID:")[1].split()[0]
