"""Names are erased, one by one or all on the day the plan says, and nothing of them is left in the file."""

import re
from datetime import UTC, datetime, timedelta

from bot.actions.core.audit import append_entry
from bot.actions.core.rescheduling import reschedule
from bot.actions.delivery.destination import destination_of
from bot.actions.judging.judges_admin import enrol
from bot.rules.core.audit_pseudonyms import pseudonym
from bot.rules.core.hash_chain import broken_at, link
from storage.records.message import Select
from storage.records.request import Person
from storage.tables import audit_log, judges, processed_interactions, tryouts
from storage.tables.sql_session import stamp
from tests.actions.conftest import SERVER, Asking, Begin, button
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.scored import whole

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


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
        await judges.add_sheets(db, [(judge, squad, "bunting", "bunting", 1)])
        sheet = (await judges.sheets_of(db, judge))[0]
        comments = {"sheet": "Zacharias spoke well"}
        await judges.save_sheet(db, sheet, "submitted", {"reasons": 3, "theme": 2}, comments, asking.now)
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
        await tryouts.add_officer(db, 1, coach, "Coach", "coach")
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


async def test_a_student_erased_while_squads_may_change_is_gone_altogether(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zora' WHERE platform_id = 1")
    await sent(asking)
    sure = await asking.message("people.forget-account", people=(Person(id=1, name="Zora"),))
    assert "everything is deleted" in sure.text
    told = await asking.message(button(sure, "Yes, erase").key)
    assert "The name is erased" in told.text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student") == 2
        assert await db.value("SELECT captain_id FROM squad WHERE id = ?", squad) is not None
    assert "not in a squad" in (await asking.message("squad.mine", 1)).text


async def test_a_student_erased_later_leaves_a_seat_without_a_name(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zora Al' WHERE platform_id = 2")
        await db.run("UPDATE room_seat SET present = 1")
    await until(asking, BRIEF)
    async with asking.store.write() as db:
        said = "json_set(message_json, '$.text', 'Zora Al has joined')"
        await db.run(f"UPDATE outbox_message SET message_json = {said} WHERE id = 2")
    await sent(asking)
    async with asking.store.read() as db:
        zora = await db.value("SELECT id FROM student WHERE name = 'Zora Al'")
    sure = await asking.message(f"people.forget:{zora}")
    assert f"**Student {zora}**" in sure.text and "stays taken" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student WHERE squad_id = ?", squad) == 3
        assert await db.value("SELECT count(*) FROM room_seat WHERE platform_id = 2") == 1
    assert "Zora" not in await everything(asking)
    async with asking.store.write() as db:
        # What the delivery worker does: the account is taken out of the room.
        await db.run("UPDATE room_seat SET wanted = 0, present = 0 WHERE platform_id = 2")
    await until(asking, asking.now + timedelta(hours=2))
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM room_seat WHERE platform_id = 2") == 0


async def test_a_judge_erased_keeps_the_marks_under_a_number(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        judge = await enrol(db, (await tryouts.all_running(db))[0].id, 777, "Zebulon")
    sure = await asking.message("people.forget-account", people=(Person(id=777, name="Zebulon"),))
    assert "**Judge 1**" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        kept = await judges.judge(db, judge)
        assert await judges.judge_of(db, 1, 777) is None
    assert kept is not None and kept.name == "Judge 1" and not kept.removed
    assert "Zebulon" not in await everything(asking)


async def test_a_coach_erased_is_no_coach_any_more(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("people.coach", people=(Person(id=200, name="Zelda"),))
    await asking.ask("people.account-forgotten:200")
    assert "Only a coach" in (await asking.message("office", 200)).text
    assert "know nobody" in (await asking.message("people.account-forgotten:200")).text


async def test_part_of_a_word_is_not_taken_for_a_name(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 2, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Com' WHERE platform_id = 2")
    await sent(asking)
    before = await asking.messages_to("squad/1")
    await asking.ask("people.account-forgotten:2")
    assert before[0] in await asking.messages_to("squad/1")


async def test_what_was_put_away_before_its_result_is_purged_too(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    async with asking.store.read() as db:
        found = await tryouts.latest(db, SERVER)
        assert found is not None and found.state == "archived"
        rows = await db.rows("SELECT kind, state FROM scheduled_job")
    assert [tuple(row) for row in rows] == [("purge", "waiting")]


async def test_names_of_a_try_out_that_is_put_away_can_be_erased_at_any_time_by_who_manages_the_server(
    begin: Begin,
) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.ask("people.coach", people=(Person(id=200, name="Zelda Zorn"),))
    await fields(asking, squad)
    await sent(asking)
    assert "all names can be erased at once" in (await asking.message("tryout.ask-archive")).text
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await sent(asking)
    page = await asking.message(button(await asking.message("office"), "Earlier try-outs").key)
    picked = next(row for row in page.rows if isinstance(row, Select))
    assert [one.label for one in picked.choices] == ["Quillmere robot club try-out"]
    assert "Only someone who manages" in (await asking.message(picked.key, 200, values=("1",))).text
    sure = await asking.message(picked.key, values=("1",))
    assert "No earlier try-out" in (await asking.message("earlier.show", server_id=SERVER + 1)).text
    yes = button(sure, "Yes, erase").key
    assert "erased already" in (await asking.message(yes, server_id=SERVER + 1)).text
    assert "Zelda" in await everything(asking)
    told = await asking.message(yes)
    assert "are erased" in told.text and "No earlier try-out" in told.text
    await sent(asking)
    async with asking.store.write() as db:
        await processed_interactions.drop_answers(db, asking.now + timedelta(days=3))
    assert re.findall(r"Z[a-z]+", await everything(asking)) == []
    before = len(await asking.messages_to("office"))
    assert "erased already" in (await asking.message(yes)).text
    await until(asking, asking.now + timedelta(days=61))
    assert len(await asking.messages_to("office")) == before
    assert "Earlier try-outs" not in texts(await asking.message("office"))


async def test_a_next_try_out_leads_to_them_too(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 2, "Zany Zebras")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    await begin()
    page = await asking.message(button(await asking.message("privacy.kept"), "Earlier try-outs").key)
    assert "Quillmere robot club try-out: erased" in page.text


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
        await processed_interactions.drop_answers(db, asking.now + timedelta(days=400))
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
