"""All names of a try-out are erased on the day the plan says, or a year after its deadline; numbers stay."""

import re
from datetime import UTC, datetime, timedelta

import bot.actions.results.announce
import bot.actions.results.feedback
import bot.actions.results.place_offers  # noqa: F401
from bot.actions.core.audit import append_entry
from bot.actions.core.live_messages import compose
from bot.actions.core.rescheduling import reschedule
from bot.actions.core.scheduled_jobs import ring
from bot.actions.delivery.destination import destination_of
from bot.actions.judging.judges_admin import enrol
from bot.actions.privacy.purge_tryout import drop_processed_interactions
from bot.rules.core.audit_pseudonyms import pseudonym
from bot.rules.core.hash_chain import broken_at, link
from bot.rules.privacy.retention import INTERACTIONS_KEPT
from storage.records.request import Person
from storage.tables import (
    audit_log,
    helpers,
    place_offers,
    processed_interactions,
    score_sheets,
    squad_feedback,
    tryouts,
)
from storage.tables.sql_session import stamp
from tests.actions.conftest import SERVER, Asking, Begin, button
from tests.actions.hand_in_cast import add, drawing, window
from tests.actions.office_cast import make_squad, until
from tests.actions.questions_cast import answered, ask, preview, stored, two_squads
from tests.actions.results.test_place_offers import announced, offer
from tests.actions.scored import whole

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


START = {"squad": "Crooked Spoons", "name": "Zacharias", "section": "7-A"}


async def answers(asking: Asking) -> str:
    """All answers that are kept in case an event is repeated."""
    async with asking.store.read() as db:
        return str([row[0] for row in await db.rows("SELECT answer_json FROM processed_interaction")])


async def everything(asking: Asking) -> str:
    """All text in the file."""
    async with asking.store.read() as db:
        tables = [row["name"] for row in await db.rows("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows = [tuple(row) for table in tables for row in await db.rows(f"SELECT * FROM {table}")]
    return "\n".join(map(str, rows))


async def sent(asking: Asking) -> None:
    """All outbox messages have been delivered."""
    async with asking.store.write() as db:
        await db.run("UPDATE outbox_message SET state = 'sent', settled_at = queued_at")


async def fields(asking: Asking, squad: int) -> None:
    """A judge with comments and an attempt, as after the event days."""
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        judge = await enrol(db, tryout.id, 777, "Zebulon Quist")
        await score_sheets.add_sheets(db, [(judge, squad, "bunting", "bunting", 1)])
        sheet = (await score_sheets.sheets_of(db, judge))[0]
        comments = {"sheet": "Zacharias spoke well"}
        await score_sheets.save_sheet(db, sheet, "submitted", {"reasons": 3, "theme": 2}, comments, asking.now)
        await db.run(
            "INSERT INTO absence (squad_id, event, excused, reason) VALUES (?, 'run', 1, 'Zacharias was ill')", squad
        )


async def test_on_its_day_every_name_and_word_is_gone_and_every_number_stays(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.ask("people.entered", fields={"name": "Zacharias", "section": "7-A"})
    await asking.ask(f"people.smalled:{squad}", fields={"reason": "Zacharias moved away"})
    await asking.ask("people.coach", people=(Person(id=200, name="Zelda Zorn"),))
    await fields(asking, squad)
    await sent(asking)
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await sent(asking)
    assert "Za" in await everything(asking)
    asking.now += timedelta(days=59)
    await until(asking, asking.now)
    assert "Zacharias" in await everything(asking)
    await until(asking, asking.now + timedelta(days=2))
    left = await everything(asking)
    assert re.findall(r"Z[a-z]+", left) == []
    async with asking.store.read() as db:
        assert await db.value("SELECT marks_json FROM sheet") == '{"reasons": 3, "theme": 2}'
        assert [row[0] for row in await db.rows("SELECT name FROM squad")] == ["Squad 1"]
        assert await db.value("SELECT count(*) FROM student WHERE platform_id IS NOT NULL") == 0
        assert await db.value("SELECT count(*) FROM officer") == 0
        entries = await audit_log.entries(db)
    assert [entry.action for entry in entries][-1] == "purge"
    told = await asking.messages_to("office")
    assert "have been erased" in told[-1] and "nobody can find out" in told[-1]


async def test_after_the_purge_the_coach_reads_that_older_entries_hold_account_numbers(begin: Begin) -> None:
    asking = await begin()
    async with asking.store.write() as db:
        await append_entry(db, 1, asking.now, "user:200", "squad.found", {"squad": 1})
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await until(asking, asking.now + timedelta(days=61))
    assert "still name people by account number" in (await asking.messages_to("office"))[-1]


async def test_the_log_knows_nobody_by_account_and_after_the_purge_nobody_can_find_out(begin: Begin) -> None:
    asking = await begin()
    coach, student, helper = 5_000_000_000_000_001, 5_000_000_000_000_002, 5_000_000_000_000_003
    async with asking.store.write() as db:
        await helpers.add_officer(db, 1, coach, "Coach", "coach")
    await make_squad(asking, student, 1, "Zany Zebras")
    await asking.ask("people.scorekeeper", coach, people=(Person(id=helper, name="Zelda"),))
    key = (await asking.tryout()).audit_key
    assert key is not None and len(bytes.fromhex(key)) == 32
    async with asking.store.read() as db:
        entries = await audit_log.entries(db)
    actors = [entry.actor for entry in entries]
    assert actors == [pseudonym(key, who) for who in (student, student, coach)][-len(actors) :]
    assert entries[-1].details == {"person": pseudonym(key, helper)}
    for who in (coach, student, helper):
        assert str(who) not in "".join(map(repr, entries))
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await until(asking, asking.now + timedelta(days=61))
    left = await everything(asking)
    assert key not in left
    async with asking.store.read() as db:
        entries = await audit_log.entries(db)
        assert await db.value("SELECT audit_key FROM tryout") is None
    assert broken_at(entries) is None and actors == [entry.actor for entry in entries][: len(actors)]


async def test_after_the_purge_nothing_is_tried_to_be_sent_to_a_judge_whose_account_is_gone(begin: Begin) -> None:
    asking = await begin()
    async with asking.store.write() as db:
        judge = await enrol(db, 1, 777, "Zebulon Quist")
        await db.run("UPDATE judge SET opted_in_at = ? WHERE id = ?", stamp(asking.now), judge)
    async with asking.store.read() as db:
        assert (await destination_of(db, 1, f"judge/{judge}")).opening == "direct"
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await until(asking, asking.now + timedelta(days=61))
    async with asking.store.read() as db:
        found = await destination_of(db, 1, f"judge/{judge}")
    assert (found.opening, found.room_id, found.dead) == ("", None, "removed")


async def test_the_trail_is_whole_after_the_purge(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await until(asking, asking.now + timedelta(days=61))
    async with asking.store.read() as db:
        entries = await audit_log.entries(db)
    previous = ""
    for entry in entries:
        content = {
            "tryout": entry.tryout_id,
            "at": stamp(entry.at),
            "actor": entry.actor,
            "action": entry.action,
            "details": entry.details,
        }
        assert entry.digest == link(previous, content)
        previous = entry.digest
    assert len(entries) > 3


async def test_what_was_put_away_before_its_result_is_purged_too(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    async with asking.store.read() as db:
        found = await tryouts.latest(db, SERVER)
        assert found is not None and found.state == "archived"
        rows = await db.rows("SELECT kind, state FROM scheduled_job")
    assert [tuple(row) for row in rows] == [("purge", "waiting")]


async def test_names_of_a_try_out_that_everybody_forgot_are_erased_a_year_after_its_deadline(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Zany Zebras")
    await until(asking, BRIEF)
    deadline = BRIEF + timedelta(days=10)
    await until(asking, deadline + timedelta(days=364))
    assert (await asking.tryout()).state == "judging" and "Zany" in await everything(asking)
    await until(asking, deadline + timedelta(days=366))
    await sent(asking)
    async with asking.store.write() as db:
        await processed_interactions.drop_older(db, asking.now + timedelta(days=400))
        assert await db.value("SELECT state FROM tryout") == "archived"
        assert await db.value("SELECT count(*) FROM student WHERE platform_id IS NOT NULL") == 0
    assert "Zany" not in str([text for text in (await everything(asking)).split("\n") if "squad" in text.casefold()])


async def test_what_is_announced_is_erased_on_the_day_that_the_plan_gives(begin: Begin) -> None:
    asking, _ = await whole(begin, 2)
    async with asking.store.write() as db:
        await reschedule(db, 1, asking.now)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.write() as db:
        await reschedule(db, 1, asking.now)
        (at,) = [row["at"] for row in await db.rows("SELECT at FROM scheduled_job WHERE kind = 'purge'")]
    assert at.startswith(f"{asking.now + timedelta(days=60):%Y-%m-%d}")


async def test_the_purge_deletes_every_part(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await until(asking, asking.now + timedelta(days=62))
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0
        said = [row[0] for row in await db.rows("SELECT answer_json FROM processed_interaction")]
    assert not any("wheel" in one for one in said)


async def test_what_was_answered_days_ago_goes_every_night_and_new_answers_stay(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("squad.found", 1, fields=START)
    await drop_processed_interactions(asking.store, asking.now + INTERACTIONS_KEPT - timedelta(minutes=1))
    assert "Crooked Spoons" in await answers(asking)
    await drop_processed_interactions(asking.store, asking.now + INTERACTIONS_KEPT + timedelta(minutes=1))
    assert await answers(asking) == "[]"


async def test_the_purge_leaves_no_question_and_no_answer(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking, "May Zacharias help?")
    await ask(asking, "May Zora help?")
    await answered(asking, text="May Zelda help?", answer="Zelda may.")
    await preview(asking, 2, text="May Zora help?", answer="Zora may.")
    async with asking.store.write() as db:
        await db.run("UPDATE outbox_message SET state = 'sent', settled_at = queued_at")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    async with asking.store.write() as db:
        await db.run("UPDATE outbox_message SET state = 'sent', settled_at = queued_at")
    await until(asking, asking.now + timedelta(days=61))
    for word in ("Zacharias", "Zora", "Zelda"):
        assert await stored(asking, word) == 0
    async with asking.store.read() as db:
        put_away = await tryouts.latest(db, SERVER)
        assert put_away is not None
        assert await compose(db, put_away, "rules") is None
        assert await compose(db, put_away, "question/2") is None


async def test_on_the_day_of_the_purge_offers_lose_their_words_and_feedback_is_gone(begin: Begin) -> None:
    asking, ids = await announced(begin)
    await offer(asking, ids[0])
    await asking.filled(f"feedback.edit:{ids[0]}", fields={"text": "You listened to each other."})
    await ring(asking.store, asking.now + timedelta(days=61))
    async with asking.store.read() as db:
        made = await place_offers.offers(db, 1)
        assert [one.what for one in made] == [""]
        assert await squad_feedback.feedbacks(db, 1) == {}
