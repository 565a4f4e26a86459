"""The plan is read and changed by form."""

from decimal import Decimal

import pytest

from storage.records.message import Say, TextField
from tests.actions.calendar.test_reminders import RING, about_days
from tests.actions.conftest import Begin, button, small_plan
from tests.actions.office_cast import BRIEF, DAY, DEADLINE, make_squad, plan_file, planned, until, window


async def test_while_drafting_everything_changes_freely_and_nobody_is_told(begin: Begin) -> None:
    asking = await begin("drafting")
    plan = small_plan(name="Other try-out", zone="Europe/Berlin", sections=("8-A",))
    assert "The plan in your file counts now" in (await asking.message("plan.use", uploads=plan_file(plan))).text
    assert (await asking.tryout()).plan == plan
    assert await asking.messages_to("news") == []


async def test_sections_sizes_places_and_announcement_are_changed_in_a_form(begin: Begin) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.basics")
    assert [field.label for field in form.fields] == ["Sections", "Squad size", "Places", "What the class is told"]
    fields = {"sections": "7-A; 7-C", "sizes": "2 to 4", "places": "2", "announce": "podium"}
    await asking.ask(form.key, fields=fields)
    plan = (await asking.tryout()).plan
    assert (plan.sections, plan.squads.smallest, plan.squads.largest) == (("7-A", "7-C"), 2, 4)
    assert (plan.places, plan.announce) == (2, "podium")


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"sizes": "5-3"}, "more than `largest`"),
        ({"sizes": "a few"}, "The smallest squad must be a number from 1 to 25"),
        ({"places": "0"}, "The number of places must be a number from 1 to 25"),
        ({"sections": "7-A, 7-a"}, "stands there already"),
        ({"sections": " , "}, "needs at least 1"),
    ],
)
async def test_what_is_wrong_in_the_form_is_said_and_nothing_changed(
    begin: Begin, fields: dict[str, str], said: str
) -> None:
    asking = await begin("drafting")
    right = {"sections": "7-A, 7-B", "sizes": "3-5", "places": "1", "announce": "winner"}
    answer = await asking.filled("plan.basics", fields=right | fields)
    assert said in answer.text
    assert button(answer, "Correct it").key == "plan.basics"
    assert (await asking.tryout()).plan == small_plan()


async def test_weights_are_changed_line_by_line(begin: Begin) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.weights")
    field = form.fields[0]
    assert isinstance(field, TextField) and field.value == "run = 40\nbunting = 30\nchain = 30"
    await asking.ask(form.key, fields={"weights": "run = 50\n\nbunting=12,5"})
    assert [event.weight for event in (await asking.tryout()).plan.events] == [50, Decimal("12.5"), 30]
    for wrong in ("runs = 5", "run 5", "run = NaN", "run = -3", "run = 0"):
        refused = await asking.filled("plan.weights", fields={"weights": f"{wrong}\nchain = 1"})
        assert "Nothing was changed" in refused.text
    assert [event.weight for event in (await asking.tryout()).plan.events] == [50, Decimal("12.5"), 30]


async def test_name_and_brief_are_changed_while_sign_up_runs_and_the_board_follows(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    async with asking.store.write() as db:
        await db.run("UPDATE live_message SET stale = 0")
    await asking.filled("plan.words", fields={"name": "Robot days", "brief": "Bring socks to the basket."})
    assert (await asking.tryout()).plan.name == "Robot days"
    assert len(await asking.messages_to("news")) == 1
    async with asking.store.read() as db:
        assert await db.value("SELECT min(stale) FROM live_message") > 0


async def test_the_coach_reads_the_plan_and_gets_it_as_a_file(begin: Begin) -> None:
    asking = await begin("drafting")
    answer = await asking.ask("plan.show")
    assert isinstance(answer, Say) and answer.message.files[0].name == "plan.toml"
    used = await asking.message(
        "plan.use", uploads={"plan": {"name": "plan.toml", "data": answer.message.files[0].data}}
    )
    assert "nothing was changed" in used.text


DATES = {"date": "2027-01-12", "time": "15:30", "days": "8", "remind": "17:00", "closes": ""}


async def test_moved_dates_are_shown_once_then_told_and_planned_anew(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    sure = await asking.filled("plan.dates", fields=DATES)
    assert [row.at for row in await planned(asking, "brief") if row.state == "waiting"] == [BRIEF]
    await asking.ask(button(sure, "Yes, change it").key)
    news = await asking.messages_to("news")
    assert "new dates" in news[-1] and len(news) == 2
    assert all(f"> {line}" in sure.text for line in news[-1].split("\n"))
    waiting = [row for row in await planned(asking) if row.state == "waiting"]
    assert [row.at for row in waiting if row.kind == "brief"] == [BRIEF + DAY]
    assert [row.at for row in waiting if row.kind == "signup-closes"] == [BRIEF + DAY]
    await until(asking, BRIEF)
    assert (await asking.tryout()).state == "signup"
    await until(asking, BRIEF + DAY)
    assert (await asking.tryout()).state == "window"


async def test_dates_moved_in_the_window_need_a_reason_and_what_was_said_stays_said(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await until(asking, RING + DAY)
    fields = {"days": "11", "remind": "17:00", "judged": ""}
    assert "needs a reason" in (await asking.filled("plan.dates", fields=fields)).text
    sure = await asking.filled("plan.dates", fields=fields | {"reason": "A day of snow"})
    await asking.ask(button(sure, "Yes, change it").key)
    tryout = await asking.tryout()
    assert tryout.plan_sha256 is not None and tryout.plan_sha256 in (await asking.messages_to("news"))[-1]
    assert "Reason: A day of snow" in (await asking.messages_to("news"))[-1]
    await until(asking, DEADLINE + 3 * DAY)
    news = about_days(await asking.messages_to("news"))
    assert news[:3] == ["Day 1 of 10.", "Day 2 of 10.", "Day 3 of 11."]
    assert news[-3:] == ["Day 10 of 11.", "The last hours.", "The last hour."]
    assert len(news) == 12
    async with asking.store.read() as db:
        rows = await db.rows("SELECT changes_json, sha256, reason FROM decision")
    assert [tuple(row) for row in rows] == [
        ('["the dates", "the hours of reminders"]', tryout.plan_sha256, "A day of snow")
    ]


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"days": "1", "remind": "16:00", "judged": "", "reason": "shorter"}, "deadline would be in the past"),
        ({"days": "0", "remind": "16:00", "judged": ""}, "The number of days must be a number from 1 to 60"),
        ({"days": "ten", "remind": "4 pm", "judged": "soon"}, "cannot read **4 pm** as a time"),
        ({"days": "10", "remind": "16:00", "judged": ""}, "says already"),
    ],
)
async def test_dates_that_make_no_sense_are_refused(begin: Begin, fields: dict[str, str], said: str) -> None:
    asking, _, _ = await window(begin)
    await until(asking, RING + DAY)
    assert said in (await asking.filled("plan.dates", fields=fields)).text
