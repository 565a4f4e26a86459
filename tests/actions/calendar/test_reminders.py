"""Reminders to squads: what they owe, gaps of the bot, and what becomes of them when dates are moved."""

from datetime import UTC, datetime, timedelta

from bot.words.calendar import reminders as words
from storage.records.plan import Calendar
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import DAY, DEADLINE, make_squad, off_until, planned, until, window

RING = datetime(2027, 1, 12, 21, 0, tzinfo=UTC)  # 16:00 in New York on day 1


def about_days(texts: list[str]) -> list[str]:
    """The first words of the daily reminders among the news."""
    return [text[4:].split("**")[0] for text in texts if text.startswith(("⏰ **Day", "⏰ **The last hour"))]


async def test_everyone_hears_once_a_day_how_long_remains_and_twice_more_on_the_last_day(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await until(asking, DEADLINE + DAY)
    news = about_days(await asking.messages_to("news"))
    # On day 10 the hour of the reminder comes after the deadline.
    assert news == [f"Day {day} of 10." for day in range(1, 10)] + ["The last hours.", "The last hour."]
    reminders = await planned(asking, "reminder")
    assert [row.state for row in reminders] == ["done"] * 11
    assert [row.at for row in reminders[-2:]] == [DEADLINE - timedelta(hours=3), DEADLINE - timedelta(hours=1)]


async def test_a_squad_hears_only_what_it_owes_and_nothing_when_that_is_nothing(begin: Begin) -> None:
    asking, whole, small = await window(begin)
    before = len(await asking.messages_to(f"squad/{whole}"))
    await until(asking, RING)
    assert len(await asking.messages_to(f"squad/{whole}")) == before
    text = (await asking.messages_to(f"squad/{small}"))[-1]
    assert "- Your squad needs 1 more member: please talk to your coach" in text
    assert "Student 11 and Student 12: please read the brief" in text
    assert f"<t:{int(DEADLINE.timestamp())}:F>" in text
    await asking.ask("brief.page:9", 11)
    await until(asking, RING + DAY)
    assert "Student 12: please read the brief" in (await asking.messages_to(f"squad/{small}"))[-1]


async def test_while_sign_up_runs_the_reminder_gives_the_join_code(begin: Begin) -> None:
    calendar = Calendar(brief=datetime(2027, 1, 11, 15, 30), signup_closes=datetime(2027, 1, 13, 15, 30))  # noqa: DTZ001
    asking, _, small = await window(begin, calendar=calendar)
    await until(asking, RING)
    assert "- You need 1 more member: friends join with the code" in (await asking.messages_to(f"squad/{small}"))[-1]
    assert not any("Sign-up is closed" in text for text in await asking.messages_to("office"))
    await until(asking, RING + DAY)
    assert "needs 1 more" in (await asking.messages_to(f"squad/{small}"))[-2]
    assert "please talk to your coach" in (await asking.messages_to(f"squad/{small}"))[-1]
    assert "Too small: Muddy Teapots" in "".join(await asking.messages_to("office"))


async def test_members_without_an_account_owe_no_reading(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 2, "Crooked Spoons")
    await asking.ask("people.entered", fields={"name": "Cy", "section": "7-A"})
    async with asking.store.read() as db:
        cy = await db.value("SELECT id FROM student WHERE platform_id IS NULL")
    await asking.ask(f"people.placed:{cy}", values=(str(squad),))
    await until(asking, RING)
    assert "Student 1 and Student 2: please read the brief" in (await asking.messages_to(f"squad/{squad}"))[-1]
    for who in (1, 2):
        await asking.ask("brief.page:9", who)
    said = len(await asking.messages_to(f"squad/{squad}"))
    await until(asking, RING + DAY)
    assert len(await asking.messages_to(f"squad/{squad}")) == said


async def test_after_a_gap_there_is_one_message_instead_of_a_burst(begin: Begin) -> None:
    asking, _, small = await window(begin)
    said = len(await asking.messages_to(f"squad/{small}"))
    await off_until(asking, RING + 3 * DAY + timedelta(minutes=40))
    assert about_days(await asking.messages_to("news")) == ["Day 4 of 10."]
    assert "I was off for a while" in (await asking.messages_to("news"))[-1]
    assert len(await asking.messages_to(f"squad/{small}")) == said + 1
    states = [(row.state, row.why) for row in await planned(asking, "reminder")][:5]
    assert states == [("skipped", "too late")] * 3 + [("done", ""), ("waiting", "")]


async def test_what_was_missed_waits_for_the_morning_when_the_bot_comes_back_at_night(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    night = datetime(2027, 1, 13, 3, 0, tzinfo=UTC)  # 22:00 in New York
    morning = datetime(2027, 1, 13, 12, 0, tzinfo=UTC)  # 07:00
    await off_until(asking, night)
    assert about_days(await asking.messages_to("news")) == []
    await until(asking, morning - timedelta(minutes=1))
    assert about_days(await asking.messages_to("news")) == []
    await until(asking, morning)
    assert about_days(await asking.messages_to("news")) == ["Day 2 of 10."]
    await until(asking, RING + DAY)
    news = [text for text in await asking.messages_to("news") if about_days([text])]
    assert about_days(news) == ["Day 2 of 10."] * 2
    assert [words.LATE in text for text in news] == [True, False], "or one day seems to be counted twice"


async def test_no_reminder_is_sent_after_the_deadline(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await off_until(asking, DEADLINE + timedelta(hours=2))
    assert about_days(await asking.messages_to("news")) == []
    assert (await asking.tryout()).state == "judging"
    assert {row.state for row in await planned(asking, "reminder")} == {"skipped"}


async def test_what_waits_for_the_morning_survives_a_change_of_dates_in_the_night(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await off_until(asking, DEADLINE + timedelta(hours=8))
    fields = {"days": "10", "remind": "15:00", "judged": "", "reason": "Earlier reminders"}
    sure = await asking.filled("plan.dates", fields=fields)
    await asking.ask(button(sure, "Yes, change it").key)
    assert (await asking.tryout()).state == "window"
    await until(asking, DEADLINE + timedelta(hours=16))
    assert (await asking.tryout()).state == "judging"


async def test_times_stay_on_the_wall_clock_across_a_clock_change(begin: Begin) -> None:
    # In New York the clocks go forward on 14 March 2027; 20 March is a Saturday, so the deadline is on Monday.
    calendar = Calendar(brief=datetime(2027, 3, 10, 15, 30))  # noqa: DTZ001
    asking = await begin("drafting", calendar=calendar)
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, datetime(2027, 3, 10, 20, 30, tzinfo=UTC))
    reminders = [row.at for row in await planned(asking, "reminder")]
    assert reminders[:4] == [datetime(2027, 3, day, 21, 0, tzinfo=UTC) for day in (11, 12, 13)] + [
        datetime(2027, 3, 14, 20, 0, tzinfo=UTC)
    ]
    assert [row.at for row in await planned(asking, "deadline")] == [datetime(2027, 3, 22, 19, 30, tzinfo=UTC)]


async def test_a_later_deadline_on_the_last_day_has_its_last_hours_again(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await until(asking, DEADLINE - timedelta(minutes=30))
    sure = await asking.filled(
        "plan.dates", fields={"days": "11", "remind": "16:00", "judged": "", "reason": "The hall is closed today"}
    )
    await asking.ask(button(sure, "Yes, change it").key)
    await until(asking, DEADLINE + 2 * DAY)
    said = about_days(await asking.messages_to("news"))
    assert (said.count("The last hours."), said.count("The last hour.")) == (2, 2)
