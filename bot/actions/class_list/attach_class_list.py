"""The coach attaches a class list, or a newer one in its place."""

from collections.abc import Sequence
from functools import partial

from bot.actions.class_list.class_list_admin import panel_of
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.rules.class_list.attach_class_list import BadList, NewList, kept_rows, on_the_list, read_class_list
from bot.rules.class_list.spreadsheet_or_csv import read_table
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.class_list import attach_class_list as words
from bot.words.core.class_action_keys import ClassKey
from storage.records.class_list import ClassListEntry
from storage.records.message import Answer, Message, Open, Say
from storage.records.people import Student
from storage.records.request import Request, Upload
from storage.records.tryout import Tryout
from storage.tables import class_lists, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.LIST_FILE, "coach")
async def file_form(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form that takes the file."""
    return Open(form=words.file_form(await class_lists.class_list(db, tryout.id) is not None))


async def _admit_file(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """A coach may attach a list at any time."""


async def _read_file(db: Snapshot, tryout: Tryout, request: Request) -> Work[NewList | Message]:
    """Read the file beside the event loop."""
    upload = request.uploads.get("list")
    if upload is None:
        raise Refusal(Reason.LIST_EMPTY)
    if upload.failed:
        raise Refusal(Reason.FILE_NOT_FETCHED)
    return partial(_list_or_mistakes, upload, tryout.plan.sections)


def _list_or_mistakes(upload: Upload, sections: Sequence[str]) -> NewList | Message:
    try:
        return read_class_list(read_table(upload.data, upload.size), sections)
    except BadList as bad:
        return words.mistakes(bad.mistakes)


@act(ClassKey.LIST_USE, "coach", before=_read_file, admits=_admit_file)
async def use_file(db: Transaction, tryout: Tryout, request: Request, *, prepared: NewList | Message) -> Answer:
    """Take the list; students who have signed up under a name on it are that name from then on."""
    if isinstance(prepared, Message):
        return Say(message=prepared)
    rows = kept_rows(prepared)
    await class_lists.replace_list(db, tryout.id, prepared.columns, rows, request.at)
    there = await students.students(db, tryout.id)
    linked = await _link(db, there, await class_lists.entries(db, tryout.id))
    await audit(db, tryout, request, "class-list.use", names=len(rows), columns=len(prepared.columns))
    return Say(message=await panel_of(db, tryout, words.taken(len(rows), linked, len(there) - linked)))


async def _link(db: Transaction, there: Sequence[Student], entries: Sequence[ClassListEntry]) -> int:
    """Say which names on the list students are who have signed up; how many are on it."""
    free = {one.id: one for one in entries}
    for one in there:
        entry = on_the_list(one.name, one.section, free.values())
        if entry is not None:
            await class_lists.link(db, entry.id, one.id)
            del free[entry.id]
    return len(entries) - len(free)
