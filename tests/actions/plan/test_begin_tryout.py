"""Plans: taken from a file, changed while the try-out runs, and used again next year."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from bot.rules.plan.read_plan import fingerprint, write_plan
from storage.records.message import Say, TextField
from storage.records.plan import Calendar, Plan
from storage.records.request import Upload
from storage.tables import decisions, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button, small_plan
from tests.actions.office_cast import make_squad, until
from tests.actions.table_help import add_squads

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
REASON = {"reason": "The bunting took too long"}


def file(plan: Plan | str) -> dict[str, Upload]:
    text = plan if isinstance(plan, str) else write_plan(plan)
    return {"plan": Upload(name="plan.toml", data=text.encode())}


def later(**changes: object) -> Plan:
    """The small plan with other parts."""
    return small_plan(**changes)


async def in_window(begin: Begin) -> Asking:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    return asking


async def test_a_try_out_begins_with_a_plan_file(nobody: Asking) -> None:
    answer = await nobody.message("plan.use", uploads=file(small_plan()))
    assert "is set up as a draft" in answer.text
    assert (await nobody.tryout()).plan == small_plan()


async def test_a_file_whose_brief_is_past_does_not_begin(nobody: Asking) -> None:
    old = Calendar(brief=datetime(2026, 1, 11, 15, 30))  # noqa: DTZ001
    assert "in the past" in (await nobody.message("plan.use", uploads=file(small_plan(calendar=old)))).text
    assert "No try-out is running" in (await nobody.message("office")).text


async def test_all_mistakes_of_a_file_are_listed_at_once(nobody: Asking) -> None:
    text = write_plan(small_plan()).replace('"America/New_York"', '"New York"').replace("weight = 40", "weight = -1")
    answer = await nobody.message("plan.use", uploads=file(text))
    assert "2 mistakes" in answer.text and "New York" in answer.text and "-1" in answer.text


async def test_a_list_of_mistakes_that_is_too_long_comes_as_a_file(nobody: Asking) -> None:
    lines = "\n".join(f"strange-key-number-{number} = {number}" for number in range(80))
    answer = await nobody.ask("plan.use", uploads=file(f"{lines}\n{write_plan(small_plan())}"))
    assert isinstance(answer, Say)
    assert "80 mistakes" in answer.message.text and "longer list is in the file" in answer.message.text
    assert answer.message.files[0].data.decode().count("\n") == 79


async def test_no_file_at_all_is_told(nobody: Asking) -> None:
    assert "No file came with that" in (await nobody.message("plan.use")).text


async def test_while_drafting_everything_changes_freely_and_nobody_is_told(begin: Begin) -> None:
    asking = await begin("drafting")
    plan = later(name="Other try-out", zone="Europe/Berlin", sections=("8-A",))
    assert "The plan in your file counts now" in (await asking.message("plan.use", uploads=file(plan))).text
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


async def test_a_section_with_students_cannot_go_nor_a_size_below_a_squad(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 5, "Crooked Spoons")
    fields = {"sections": "7-B", "sizes": "3-5", "places": "1", "announce": "winner"}
    assert "students have signed up in it" in (await asking.filled("plan.basics", fields=fields)).text
    fields |= {"sections": "7-A, 7-B", "sizes": "3-4"}
    assert "has 5 members already" in (await asking.filled("plan.basics", fields=fields)).text


async def test_after_the_brief_a_change_takes_a_reason_a_yes_and_gives_a_new_fingerprint(begin: Begin) -> None:
    asking = await in_window(begin)
    frozen = (await asking.tryout()).plan_sha256
    form = await asking.form("plan.weights")
    assert [field.label for field in form.fields] == ["Event = weight", "Why?"]
    weights = {"weights": "run = 50\nbunting = 20\nchain = 35"}
    assert "needs a reason" in (await asking.message(form.key, fields=weights)).text
    sure = await asking.message(form.key, fields=weights | REASON)
    assert (await asking.tryout()).plan_sha256 == frozen
    assert "Only a coach" in (await asking.message(button(sure, "Yes, change it").key, 5)).text
    await asking.ask(button(sure, "Yes, change it").key)
    tryout = await asking.tryout()
    assert tryout.plan_sha256 == fingerprint(tryout.plan) != frozen
    assert tryout.brief_at == BRIEF
    news = (await asking.messages_to("news"))[-1]
    assert "Sock run counts 50 instead of 40" in news and "Reason: The bunting took too long" in news
    assert "the surprise counts 35 instead of 30" in news and "chain" not in news
    assert all(f"> {line}" in sure.text for line in news.split("\n"))
    async with asking.store.read() as db:
        decided = await decisions.decisions(db, tryout.id)
        entry = await db.value("SELECT details_json FROM audit_log WHERE action = 'plan.change'")
    assert decided[0].changes[0] == "Sock run counts 50 instead of 40"
    assert decided[0].sha256 == tryout.plan_sha256
    assert "too long" not in entry and str(tryout.plan_sha256) in entry


async def test_a_change_can_be_left_alone_after_all(begin: Begin) -> None:
    asking = await in_window(begin)
    sure = await asking.filled("plan.weights", fields={"weights": "run = 50"} | REASON)
    assert "Nothing was changed" in (await asking.message(button(sure, "No, leave it").key)).text
    assert "no change waiting" in (await asking.message(button(sure, "Yes, change it").key)).text
    assert (await asking.tryout()).plan == small_plan()


async def test_after_the_brief_events_criteria_levels_and_the_start_stay(begin: Begin) -> None:
    asking = await in_window(begin)
    plan = small_plan()
    fewer = plan.model_copy(update={"events": plan.events[:2], "tie_breaks": ()})
    answer = await asking.message("plan.use", uploads=file(fewer), fields=REASON)
    assert "must stay as they are" in answer.text
    moved = plan.model_copy(update={"calendar": Calendar(brief=datetime(2027, 1, 12, 15, 30))})  # noqa: DTZ001
    answer = await asking.message("plan.use", uploads=file(moved), fields=REASON)
    assert "its date and zone stay" in answer.text


async def test_after_the_window_the_deadline_stays_and_after_judging_the_plan(begin: Begin) -> None:
    asking = await in_window(begin)
    await until(asking, datetime(2027, 1, 22, tzinfo=UTC))
    fields = {"days": "12", "remind": "16:00", "judged": ""} | REASON
    assert "the deadline stays" in (await asking.filled("plan.dates", fields=fields)).text
    judged = {"days": "10", "remind": "16:00", "judged": "2027-02-01 12:00"} | REASON
    sure = await asking.filled("plan.dates", fields=judged)
    await asking.ask(button(sure, "Yes, change it").key)
    assert (await asking.tryout()).plan.calendar.judging_closes == datetime(2027, 2, 1, 12)  # noqa: DTZ001
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'settled'")
    refused = await asking.filled("plan.weights", fields={"weights": "run = 1"} | REASON)
    assert "cannot change any more" in refused.text


@pytest.mark.parametrize("date", ["9999-12-31", "9999-01-01", "0001-01-01", "2027-02-29"])
async def test_a_date_from_which_no_days_can_be_counted_is_refused_in_words(begin: Begin, date: str) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.dates")
    fields = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    assert f"cannot read **{date}** as a date" in (await asking.message(form.key, fields=fields | {"date": date})).text
    text = write_plan(small_plan()).replace("2027-01-11", date)
    told = await asking.message("plan.use", uploads=file(text))
    assert ("in the years 2000 to 2199" if date[:4] != "2027" else "cannot be read as TOML") in told.text
    typed = {"date": date, "time": "15:30", "zone": "UTC", "sections": "7-A, 7-B"}
    elsewhere = await asking.message("plan.begun", fields=typed, manages_server=True, server_id=8)
    assert f"cannot read **{date}** as a date" in elsewhere.text


async def test_next_year_begins_from_the_last_plan_with_a_new_date(begin: Begin) -> None:
    asking = await begin(
        "drafting",
        calendar=Calendar(
            brief=datetime(2027, 1, 11, 15, 30),  # noqa: DTZ001
            signup_closes=datetime(2027, 1, 13, 15, 30),  # noqa: DTZ001
            closed=(date(2027, 1, 18), date(2028, 1, 20)),
        ),
    )
    assert "running here already" in (await asking.message("plan.again")).text
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    form = await asking.form("plan.again")
    assert [getattr(field, "value", "") for field in form.fields] == ["", "15:30", "7-A, 7-B"]
    wrong = await asking.message(form.key, fields={"date": "soon", "time": "15:30", "sections": "8-A"})
    assert button(wrong, "Correct it").key == "plan.again"
    await asking.ask(form.key, fields={"date": "2028-01-10", "time": "14:00", "sections": "8-A, 8-B"})
    plan = (await asking.tryout()).plan
    assert plan.calendar.brief == datetime(2028, 1, 10, 14, 0)  # noqa: DTZ001
    assert (plan.calendar.signup_closes, plan.calendar.closed) == (None, (date(2028, 1, 20),))
    assert plan.sections == ("8-A", "8-B") and plan.events == small_plan().events


async def test_without_an_earlier_try_out_there_is_no_plan_to_take_again(nobody: Asking) -> None:
    assert "no earlier try-out" in (await nobody.message("plan.again")).text


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


async def test_once_there_are_scores_weights_change_by_two_coaches_or_by_one_who_has_waited(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, "0" * 64, asking.now)
        await tryouts.add_officer(db, 1, 101, "Second coach", "coach")
    (squad,) = await add_squads(asking, 1)
    await asking.ask(f"table.save:run.socks:{squad}:1:9:0")

    async def propose(weights: str, who: int = COACH) -> str:
        sure = await asking.filled("plan.weights", who, fields={"weights": weights} | REASON)
        rows = [one for row in sure.rows if isinstance(row, tuple) for one in row]
        return next(one.key for one in rows if one.key.startswith("plan.apply"))

    press = await propose("run = 50")
    assert "only if a second coach" in (await asking.message(press)).text
    assert (await asking.tryout()).plan.events[0].weight == 40
    asking.now += timedelta(minutes=10)
    await asking.ask(press)
    assert (await asking.tryout()).plan.events[0].weight == 50
    assert "only if a second coach" in (await asking.message(await propose("run = 60"))).text
    await asking.ask(await propose("run = 60", 101), 101)
    assert (await asking.tryout()).plan.events[0].weight == 60
    assert "Sock run counts 60 instead of 50" in (await asking.messages_to("news"))[-1]


async def test_nothing_is_told_that_the_coach_has_not_seen_not_even_another_reason(begin: Begin) -> None:
    asking = await begin("window")
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, "0" * 64, asking.now)
    presses = []
    for reason in ("The gym is closed", "A reason that nobody has read"):
        sure = await asking.filled("plan.weights", fields={"weights": "run = 50", "reason": reason})
        presses.append(button(sure, "Yes, change it").key)
    assert "quicker" in (await asking.message(presses[0])).text
    assert await asking.messages_to("news") == []
    await asking.ask(presses[1])
    assert "A reason that nobody has read" in (await asking.messages_to("news"))[-1]
