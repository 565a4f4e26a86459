"""What the command line says of a results packet, by itself and against a database."""

import json
from pathlib import Path

import pytest

from bot.actions.scoring.command_line_packet import newest_packet, verify_report
from bot.rules.core.hash_chain import content, link
from bot.rules.core.refusal import Refusal
from bot.rules.plan.read_plan import fingerprint
from bot.words.core import refusals
from storage.records.message import Message
from storage.store import Store
from storage.tables import audit_log, tryouts
from tests.actions.conftest import Begin, button
from tests.actions.scored import whole
from tests.databases import new_database


async def announced(begin: Begin) -> bytes:
    """Announce a result; the packet that the office got."""
    asking, _ = await whole(begin)
    async with asking.store.write() as db:
        await tryouts.freeze(db, 1, fingerprint((await asking.tryout()).plan), asking.now)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        (letter,) = await db.rows("""SELECT message_json FROM outbox_message WHERE address = 'office'""")
    return next(
        file.data for file in Message.model_validate_json(letter[0]).files if file.name == "results-packet.json"
    )


async def test_a_packet_holds_by_itself_and_against_its_database(begin: Begin, tmp_path: Path) -> None:
    packet = await announced(begin)
    report, good = await verify_report(packet, None)
    assert good and report.endswith("all as it says.")
    assert "What was recorded is taken as it stands in the packet." in report
    report, good = await verify_report(packet, tmp_path / "tenbell.db")
    assert good
    assert "right   chain of the trail (" in report and "right   the database gives this very packet" in report
    assert "What was recorded is taken as it stands" not in report
    assert b"Crooked Spoons" not in packet and b"Judge 1" not in packet


async def test_the_packet_of_a_database_is_the_one_the_coach_got(begin: Begin, tmp_path: Path) -> None:
    packet = await announced(begin)
    assert (await newest_packet(tmp_path / "tenbell.db") or "").encode() == packet


async def test_one_altered_mark_is_found(begin: Begin) -> None:
    packet = json.loads(await announced(begin))
    packet["sheets"][0]["marks"] = dict.fromkeys(packet["sheets"][0]["marks"], 4)
    report, good = await verify_report(json.dumps(packet).encode(), None)
    assert not good and "WRONG   values of the score sheets" in report


async def test_an_altered_trail_or_a_later_record_is_found(begin: Begin, tmp_path: Path) -> None:
    packet = await announced(begin)
    path = tmp_path / "tenbell.db"
    async with Store.open(path) as store, store.write() as db:
        await db.run("UPDATE attempt SET deductions = '1' WHERE id = 1")
    report, good = await verify_report(packet, path)
    assert not good and "WRONG   the database gives another packet" in report
    async with Store.open(path) as store, store.write() as db:
        await db.run("UPDATE audit_log SET actor = 'user:1' WHERE seq = 3")
    report, good = await verify_report(packet, path)
    assert not good and "WRONG   chain of the trail: entry 3 was altered" in report


async def test_a_trail_that_was_written_anew_ends_in_another_digest_than_the_office_was_told(
    begin: Begin, tmp_path: Path
) -> None:
    """The chain has no key, so that whoever has the file can chain it anew: only the office's message tells."""
    packet = await announced(begin)
    path = tmp_path / "tenbell.db"
    async with Store.open(path) as store, store.read() as db:
        (letter,) = await db.rows("SELECT message_json FROM outbox_message WHERE address = 'office'")
    told = Message.model_validate_json(letter[0]).text.rpartition("The trail so far ends in ")[2]
    report, _ = await verify_report(packet, path)
    assert f"compare at the announcement the trail ended in {told}; the office's message must say the same" in report
    async with Store.open(path) as store, store.write() as db:
        previous = ""
        for entry in await audit_log.entries(db):
            changed = entry.model_copy(update={"actor": "clock"})
            digest = link(previous, content(changed))
            sql = "UPDATE audit_log SET actor = 'clock', previous = ?, digest = ? WHERE seq = ?"
            await db.run(sql, previous, digest, entry.seq)
            previous = digest
    report, good = await verify_report(packet, path)
    assert good and "right   chain of the trail (" in report
    assert told not in report


async def test_marks_that_were_altered_in_the_database_are_found_though_its_packet_was_made_anew(
    begin: Begin, tmp_path: Path
) -> None:
    await announced(begin)
    path = tmp_path / "tenbell.db"
    async with Store.open(path) as store, store.write() as db:
        await db.run("UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 4) WHERE id = 1")
    packet = (await newest_packet(path) or "").encode()
    report, good = await verify_report(packet, path)
    assert "right   the database gives this very packet" in report
    assert not good and "WRONG   marks of 1 sheet are not those that the trail says were saved" in report


async def test_a_packet_of_another_plan_is_not_borne_out(begin: Begin, tmp_path: Path) -> None:
    packet = await announced(begin)
    new_database(tmp_path / "other.db")
    report, good = await verify_report(packet, tmp_path / "other.db")
    assert not good and "no try-out in this database was held by this plan" in report


async def test_a_file_that_is_no_packet_is_refused_in_words() -> None:
    with pytest.raises(Refusal) as refused:
        await verify_report(b"hello", None)
    assert "no whole results packet" in refusals.message(refused.value).text
