"""The surprise stays secret until the coach starts it, for all at one moment."""

import re
from datetime import UTC, datetime
from hashlib import sha256

from bot.actions.core.live_messages import COMPOSERS
from bot.actions.core.registry import register_all
from storage.records.message import Message, Say
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad, until

register_all()


async def a_squad(asking: Asking) -> None:
    await asking.ask("squad.found", 1, fields={"squad": "Crooked Spoons", "name": "Ada", "section": "7-A"})


async def in_window(begin: Begin) -> Asking:
    asking = await begin()
    await a_squad(asking)
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'window', brief_at = ?", asking.now.isoformat())
    return asking


async def everything_read(asking: Asking) -> str:
    first = await asking.message("brief.open", 1)
    more = [(await asking.message(f"brief.page:{page}", 1)).text for page in range(4)]
    return "\n".join([first.text, *more])


async def test_the_brief_hides_the_surprise_until_it_starts(begin: Begin) -> None:
    asking = await in_window(begin)
    assert "Paper chain" not in await everything_read(asking)
    await asking.ask("surprise.start:chain")
    assert "Paper chain" in await everything_read(asking)


async def test_the_coach_confirms_the_safety_lines_and_all_read_it_at_once(begin: Begin) -> None:
    asking = await in_window(begin)
    office = await asking.message("office")
    asked = await asking.message(button(office, "Start the surprise").key)
    assert "Clear, dry floor; no jumping." in asked.text
    await asking.ask(button(asked, "All checked: start it").key)
    async with asking.store.read() as db:
        rows = await db.rows(
            """SELECT address, queued_at FROM outbox_message
            WHERE json_extract(message_json, '$.text') LIKE '%Paper chain%'
               AND address IN ('news', 'squad/1')"""
        )
    assert {row["address"] for row in rows} == {"news", "squad/1"}
    assert len({row["queued_at"] for row in rows}) == 1


async def test_it_starts_once(begin: Begin) -> None:
    asking = await in_window(begin)
    await asking.ask("surprise.start:chain")
    assert "no surprise" in (await asking.message("surprise.start:chain")).text
    assert "Start the surprise" not in str(await asking.message("office"))


async def test_it_cannot_start_before_the_brief_nor_by_anyone_else(begin: Begin) -> None:
    asking = await begin()
    assert "too early" in (await asking.message("surprise.start:chain")).text
    assert "Only a coach" in (await asking.message("surprise.start:chain", 1)).text


async def attachments(asking: Asking, address: str, containing: str) -> tuple[str, list[bytes]]:
    """The text and the files of the newest message with such words."""
    async with asking.store.read() as db:
        rows = await db.rows("SELECT message_json FROM outbox_message WHERE address = ? ORDER BY id DESC", address)
    found = (Message.model_validate_json(row[0]) for row in rows)
    newest = next(message for message in found if containing in message.text)
    return newest.text, [file.data for file in newest.files]


async def test_the_files_of_the_rules_have_the_posted_fingerprints_and_the_surprise_is_revealed_at_its_start(
    begin: Begin,
) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, datetime(2027, 1, 12, tzinfo=UTC))
    posted, (sealed,) = await attachments(asking, "news", "the brief is out")
    told, whole = re.findall(r"\b[0-9a-f]{64}\b", posted)
    assert sha256(sealed).hexdigest() == told and b"chain" not in sealed
    async with asking.store.read() as db:
        pinned = await db.rows("SELECT address, pinned FROM live_message WHERE key = 'brief'")
        shown = await COMPOSERS["brief"](db, await asking.tryout(), "brief")
    assert [tuple(row) for row in pinned] == [("news", 1)]
    assert shown is not None and told in shown.text
    saved = await asking.message(button(shown, "The rules as a file").key, 3)
    assert [file.data for file in saved.files] == [sealed]
    await asking.ask("surprise.start:chain")
    text, (opened,) = await attachments(asking, "news", "now with the surprise")
    assert sha256(opened).hexdigest() == whole and whole in text
    assert b"Paper chain" in opened
    saved = await asking.message("brief.file", 3)
    assert [file.data for file in saved.files] == [opened]


async def test_a_surprise_stands_in_nothing_that_students_can_see(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, datetime(2027, 1, 25, tzinfo=UTC))
    seen = [text for to in ("news", f"squad/{squad}") for text in await asking.messages_to(to)]
    answer = await asking.ask("brief.open", 1)
    assert isinstance(answer, Say)
    seen += [answer.message.text]
    for number in range(5):
        seen.append((await asking.message(f"brief.page:{number}", 1)).text)
    whole = "\n".join(seen)
    for secret in ("Paper chain", "chain", "Teamwork", "Communication", "no jumping"):
        assert secret not in whole
    assert "A surprise" in whole
    assert "Paper chain" in (await asking.message("plan.panel")).text
