"""What the rehearsal expects of reminders, worked out apart from the bot."""

from datetime import UTC, datetime, timedelta

from deploy.rehearsal.season.expected_reminders import LAST, LATE, planned_reminders, seen_reminders
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.rendering import show
from deploy.rehearsal.world.state import Message

PLAN = b"""
zone = "Europe/London"
[calendar]
brief = 2027-03-25T14:00:00
days = 3
counting = "school"
closed = [2027-03-26]
remind_at = 09:00:00
last_day_hours = [3, 1]
"""


def test_reminders_follow_school_days_and_the_clock_change() -> None:
    """London goes to summer time on 28 March 2027 (IANA zone data)."""
    planned = planned_reminders(PLAN)
    assert planned["day 1"] == datetime(2027, 3, 29, 8, 0, tzinfo=UTC)
    assert planned["day 3"] == datetime(2027, 3, 31, 8, 0, tzinfo=UTC)
    assert planned["last 1"] == datetime(2027, 3, 31, 12, 0, tzinfo=UTC)
    assert len(planned) == 5


def test_a_late_reminder_is_late_and_not_doubled() -> None:
    planned = planned_reminders(PLAN)
    server = ClassServer(planned["day 1"])
    news = server.world.add_channel("news")
    moments = {
        f"**Day 2 of 3.** x\n-# I was off for a while, so {LATE}": planned["day 2"] - timedelta(hours=1),
        "**Day 2 of 3.** x": planned["day 2"],
        f"{LAST} three": planned["last 3"] + timedelta(minutes=110),
        f"{LAST} one": planned["last 1"],
    }
    for number, (text, at) in enumerate(moments.items()):
        message = Message(number, news.id, server.world.bot.id, at, content=text)
        news.messages[number] = message
    shown = [show(server.world, message, 0) for message in news.messages.values()]
    found = seen_reminders(server.world, shown, planned)
    assert (found.planned, found.sent, found.skipped, found.doubled_what) == (5, 4, 1, [])
    assert found.late_s_p99 == 23 * 3600.0, "what stood for the first day came an hour before the second's"
