"""An erased student's name is nowhere: in no table, in no part of the log, in no fresh copy of the file."""

import logging
from pathlib import Path

import pytest

from storage.backup import make_only_backup
from storage.records.request import Person
from tests.actions.class_list.test_class_list_admin import attach, pick
from tests.actions.conftest import Asking, Begin, button
from tests.actions.core.test_stale_buttons import selects
from tests.actions.office_cast import make_squad
from tests.actions.privacy.test_purge_tryout import everything, sent
from tests.actions.scored import whole
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
    await asking.ask(selects(await asking.message("wish.page:0", 2))[1].key, 2, values=(str(zora),))
    await asking.ask(selects(await asking.message("wish.page:0", 1))[0].key, 1, values=(str(bo),))
    await asking.filled(f"correct.ask:{zora}", fields={"name": f"{NAME} Q", "section": "7-A"})
    await asking.filled(f"correct.ask:{zora}", fields={"name": NAME, "section": "7-A"})
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


async def test_nor_of_a_name_that_was_corrected_before(begin: Begin) -> None:
    """What was said under the old name stands in messages that were sent then."""
    asking = await begin()
    squad = await make_squad(asking, 11, 3, "Crooked Spoons", "7-B")
    await asking.ask("people.entered", fields={"name": "Zorra Quilfeather", "section": "7-B"})
    zora = await student_id(asking, "Zorra Quilfeather")
    await asking.ask(f"people.placed:{zora}", values=(str(squad),))
    await asking.filled(f"correct.ask:{zora}", fields={"name": NAME, "section": "7-B"})
    await sent(asking)
    assert "Zorra" in await everything(asking)
    await asking.ask(f"people.forgotten:{zora}")
    assert "Zorra" not in await everything(asking)


async def test_the_name_of_another_student_stays_whatever_was_corrected(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 11, 3, "Crooked Spoons", "7-B")
    await asking.ask("people.entered", fields={"name": NAME, "section": "7-B"})
    zora = await student_id(asking, NAME)
    await asking.ask(f"people.placed:{zora}", values=(str(squad),))
    await asking.ask("people.entered", fields={"name": "Zora Two", "section": "7-B"})
    other = await student_id(asking, "Zora Two")
    await asking.filled(f"correct.ask:{other}", fields={"name": NAME, "section": "7-A"})
    await asking.filled(f"correct.ask:{other}", fields={"name": "Cy D", "section": "7-A"})
    await asking.ask(f"people.forgotten:{other}")
    assert f"{NAME} has joined" in "".join(await asking.messages_to(f"squad/{squad}"))


async def test_who_helps_no_more_can_be_erased_from_what_they_recorded(begin: Begin) -> None:
    asking, squads = await whole(begin, 2)
    helper = Person(id=777000111222333444, name="Mr Vane")
    async with asking.store.write() as db:
        await db.run("UPDATE attempt SET recorded_by = 777000111222333444 WHERE squad_id = ?", squads[0])
    sure = await asking.message("people.forget-account", people=(helper,))
    assert "In what was recorded and typed in: the account is let go" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    assert "777000111222333444" not in await everything(asking)
    assert "nothing to erase" in (await asking.message("people.forget-account", people=(helper,))).text
