"""The .ics file, read back by an independent reader (the `ical` package) and by the rules of RFC 5545 themselves."""

import re
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING

from bot.rules.calendar.calendar import schedule
from bot.words.calendar.calendar_file import calendar_file
from storage.records.plan import Plan
from tests.rules.plan_samples import plan

if TYPE_CHECKING:
    # Late: every worker reads this file, and one runs it.
    from ical.calendar import Calendar

STAMP = datetime(2026, 10, 1, 12, 0, 0, 5, tzinfo=UTC)


def awkward() -> Plan:
    """A plan whose name needs escaping and, in UTF-8, folding."""
    return plan(days=3).model_copy(update={"name": 'Rövers; "A, B" \\ é' * 4})


def read(data: bytes) -> "Calendar":
    from ical.calendar_stream import IcsCalendarStream

    return IcsCalendarStream.calendar_from_ics(data.decode())


def test_an_independent_reader_finds_every_date() -> None:
    found = schedule(awkward())
    events = {event.uid: event for event in read(calendar_file(awkward(), found, "tryout-7", STAMP)).events}
    assert events["tryout-7-brief@tenbell"].dtstart == found.brief
    assert events["tryout-7-signup-closes@tenbell"].dtstart == found.signup_closes
    assert events["tryout-7-deadline@tenbell"].dtstart == found.deadline
    assert events["tryout-7-judging-closes@tenbell"].dtstart == found.judging_closes
    days = [events[f"tryout-7-day-{number}@tenbell"] for number in (1, 2, 3)]
    assert [day.dtstart for day in days] == [date(2026, 10, 27), date(2026, 10, 28), date(2026, 10, 29)]
    assert [day.dtend for day in days] == [date(2026, 10, 28), date(2026, 10, 29), date(2026, 10, 30)]
    assert len(events) == 7


def test_special_signs_of_the_name_survive() -> None:
    (brief,) = [
        e for e in read(calendar_file(awkward(), schedule(awkward()), "t", STAMP)).events if "brief" in (e.uid or "")
    ]
    assert brief.summary == f"{awkward().name}: the brief goes out"


def test_lines_keep_to_the_rules_of_the_format() -> None:
    """RFC 5545, 3.1: lines end in CRLF and hold at most 75 octets, folded between characters (reference value F8)."""
    data = calendar_file(awkward(), schedule(awkward()), "t", STAMP)
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    lines = data.split(b"\r\n")[:-1]
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)
    for line in lines:
        line.decode()
    unfolded = data.decode().replace("\r\n ", "")
    escaped = 'Rövers\\; "A\\, B" \\\\ é' * 4
    assert f"SUMMARY:{escaped}: deadline\r\n" in unfolded
    assert f"X-WR-CALNAME:{escaped}\r\n" in unfolded


def test_moved_dates_keep_their_names_and_count_the_version_up() -> None:
    before = calendar_file(plan(), schedule(plan()), "t", STAMP)
    moved = plan(days=12)
    after = calendar_file(moved, schedule(moved), "t", STAMP + timedelta(hours=1), version=1)
    uids = [set(re.findall(rb"UID:(\S+)", data)) for data in (before, after)]
    assert uids[0] < uids[1]
    assert {event.sequence for event in read(after).events} == {1}
    assert {event.dtstamp for event in read(after).events} == {datetime(2026, 10, 1, 13, tzinfo=UTC)}


def test_the_same_dates_give_the_same_bytes() -> None:
    assert calendar_file(plan(), schedule(plan()), "t", STAMP) == calendar_file(plan(), schedule(plan()), "t", STAMP)
