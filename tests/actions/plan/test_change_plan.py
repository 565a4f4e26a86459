"""A plan is changed while the try-out runs: what may change, what everyone is told, and who must agree."""

from datetime import UTC, datetime, timedelta

from bot.rules.plan.read_plan import fingerprint
from storage.records.plan import Calendar
from storage.tables import decisions, helpers, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button, small_plan
from tests.actions.office_cast import BRIEF, make_squad, plan_file, until
from tests.actions.plan.test_edit_plan import DATES
from tests.actions.table_help import add_squads

REASON = {"reason": "The bunting took too long"}


async def in_window(begin: Begin) -> Asking:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    return asking


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
    answer = await asking.message("plan.use", uploads=plan_file(fewer), fields=REASON)
    assert "must stay as they are" in answer.text
    moved = plan.model_copy(update={"calendar": Calendar(brief=datetime(2027, 1, 12, 15, 30))})  # noqa: DTZ001
    answer = await asking.message("plan.use", uploads=plan_file(moved), fields=REASON)
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


async def test_once_there_are_scores_weights_change_by_two_coaches_or_by_one_who_has_waited(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, "0" * 64, asking.now)
        await helpers.add_officer(db, 1, 101, "Second coach", "coach")
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


async def test_a_change_confirmed_after_another_one_was_made_is_refused(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    first = button(await asking.filled("plan.dates", fields=DATES), "Yes, change it")
    second = button(await asking.filled("plan.dates", fields=DATES | {"days": "9"}), "Yes, change it")
    assert "Someone was quicker" in (await asking.message(first.key)).text
    assert "has been told" in (await asking.message(second.key)).text
    assert "no change waiting" in (await asking.message(second.key)).text
    assert (await asking.tryout()).plan.calendar.days == 9
