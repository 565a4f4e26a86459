"""An erased student's name is nowhere: in no table, in no part of the log, in no fresh copy of the file."""

import logging
from pathlib import Path

import pytest

from storage.backup import make_only_backup
from tests.actions.class_list.test_class_list import attach, pick
from tests.actions.conftest import Asking, Begin
from tests.actions.office_cast import make_squad
from tests.actions.privacy.test_purge import everything, sent
from tests.actions.squads.test_students_admin import student_id

NAME = "Zora Quillfeather"


async def busy(begin: Begin) -> tuple[Asking, int]:
    """A student whose name stands in as many places as a name can."""
    asking = await begin()
    squad = await make_squad(asking, 11, 3, "Crooked Spoons", "7-B")
    await attach(asking, f"name,section,form back\n{NAME},7-A,yes\nBo C,7-A,no\n".encode())
    await pick(asking, 1, NAME)
    await pick(asking, 2, "Bo C")
    zora, bo = await student_id(asking, NAME), await student_id(asking, "Bo C")
    await asking.ask("squad.looking", 1)
    await asking.ask("wish.not:0", 2, values=(str(zora),))
    await asking.ask("wish.with:0", 1, values=(str(bo),))
    await asking.ask(f"correct.details:{zora}", fields={"name": f"{NAME} Q", "section": "7-A"})
    await asking.ask(f"correct.details:{zora}", fields={"name": NAME, "section": "7-A"})
    await asking.ask(f"people.excepted:{zora}:{squad}", fields={"reason": "Her friends are there"})
    await asking.ask("records.incident-noted", fields={"what": f"{NAME} fell", "who": NAME, "decision": "First aid"})
    await sent(asking)
    return asking, zora


async def test_nothing_is_left_of_an_erased_student(
    begin: Begin, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    asking, zora = await busy(begin)
    assert NAME in await everything(asking)
    await asking.ask(f"people.forgotten:{zora}")
    assert "Zora" not in await everything(asking)
    assert "Zora" not in caplog.text
    copy, _ = make_only_backup(tmp_path / "tenbell.db", asking.now)
    assert b"Zora" not in copy.read_bytes()


async def test_nor_in_what_is_still_to_be_sent(begin: Begin) -> None:
    asking, zora = await busy(begin)
    async with asking.store.write() as db:
        await db.run("UPDATE outbox_message SET state = 'queued', settled_at = NULL")
    before = await asking.messages_to("squad/1")
    await asking.ask(f"people.forgotten:{zora}")
    assert "Zora" not in await everything(asking)
    after = await asking.messages_to("squad/1")
    assert after[-1].endswith("Somebody has left the squad.")
    assert [text.replace(NAME, "…") for text in before] == after[: len(before)]
