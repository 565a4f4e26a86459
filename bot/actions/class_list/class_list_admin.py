"""The coach attaches a class list, reads its numbers, and decides about whoever is not on it."""

from collections.abc import Sequence
from functools import partial

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.squads.seats import by_squad
from bot.actions.squads.squads_changed import board_changed
from bot.actions.squads.student_accounts import link_account
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.class_list import class_list_admin as rules
from bot.rules.class_list.class_list import BadList, NewList, read_class_list
from bot.rules.class_list.table_file import read_table
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import name_keys
from bot.words.class_list import class_list_admin as words
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import shown_stamp
from storage.records.class_list import WaitingStudent
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.request import Request, Upload
from storage.records.tryout import Tryout
from storage.tables import class_lists, students
from storage.tables.sql_session import Conflict, Snapshot, Transaction


@view(ClassKey.LIST_PANEL, "coach")
async def panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the list in numbers."""
    return Replace(message=await _panel(db, tryout))


async def _panel(db: Snapshot, tryout: Tryout, said: str = "") -> Message:
    one = await class_lists.class_list(db, tryout.id)
    if one is None:
        return words.no_list()
    entries = await class_lists.entries(db, tryout.id)
    strangers = rules.strangers(await students.students(db, tryout.id), entries)
    return words.panel(one, entries, len(await class_lists.waiting(db, tryout.id)), strangers, said)


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
        raise Refusal(Reason.NO_FILE)
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
    rows = [(one.name, one.folded, one.section, one.answers) for one in prepared.names]
    await class_lists.replace_list(db, tryout.id, prepared.columns, rows, request.at)
    there = await students.students(db, tryout.id)
    linked = 0
    for one in there:
        linked += await class_lists.link_by_name(db, tryout.id, one.id, name_keys(one.name).folded, one.section)
    await audit(db, tryout, request, "class-list.use", names=len(rows), columns=len(prepared.columns))
    return Say(message=await _panel(db, tryout, words.taken(len(rows), linked, len(there) - linked)))


@view(ClassKey.LIST_ASK_REMOVE, "coach")
async def ask_remove(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before the list is erased."""
    return Replace(message=words.sure_to_remove())


@act(ClassKey.LIST_REMOVED, "coach")
async def remove(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Erase the list, and let go of whoever waits."""
    for one in await class_lists.waiting(db, tryout.id):
        await class_lists.stop_waiting(db, tryout.id, one.platform_id)
    await class_lists.remove_list(db, tryout.id)
    await audit(db, tryout, request, "class-list.removed")
    return Replace(message=await _panel(db, tryout))


@view(ClassKey.LIST_FORMS, "coach")
async def yes_and_no(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what is missing, squad by squad."""
    one = await class_lists.class_list(db, tryout.id)
    if one is None:
        return Replace(message=words.no_list())
    entries = await class_lists.entries(db, tryout.id)
    missing = rules.missing_yes(one.columns, entries, await by_squad(db, tryout))
    return Replace(message=words.forms(one.columns, missing))


@act(ClassKey.LIST_ANSWERS, "coach")
async def answered(
    db: Transaction, tryout: Tryout, request: Request, student_id: int, stamp: str = "", *, picked: tuple[int, ...]
) -> Answer:
    """Note which of the yes/no columns a student has a yes in; columns are picked by their place in what was shown."""
    await student_with_squad(db, tryout, student_id)
    one, entry = await class_lists.class_list(db, tryout.id), await class_lists.entry_of(db, student_id)
    if one is None or entry is None or any(place >= len(one.columns) for place in picked):
        raise Refusal(Reason.LIST_GONE)
    if stamp != shown_stamp(list(one.columns)):
        raise Refusal(Reason.SOMEONE_WAS_QUICKER)
    answers = {column: place in picked for place, column in enumerate(one.columns)}
    await class_lists.set_answers(db, entry.id, answers)
    await audit(db, tryout, request, "class-list.answers", student=student_id)
    return Replace(message=await student_page(db, tryout, student_id))


@view(ClassKey.LIST_NOT_HERE, "coach")
async def not_here(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Show the names that nobody has picked."""
    return Replace(message=words.not_here(rules.not_here(await class_lists.entries(db, tryout.id)), page))


@act(ClassKey.LIST_ENTER, "coach")
async def enter(db: Transaction, tryout: Tryout, request: Request, *, picked: tuple[int, ...]) -> Answer:
    """Enter students without an account straight from the list."""
    names = []
    for entry_id in picked:
        entry = await class_lists.entry(db, tryout.id, entry_id)
        if entry is None or entry.student_id is not None:
            continue
        student_id = await students.enter_student(db, tryout.id, None, entry.name, entry.section)
        await class_lists.link(db, entry.id, student_id)
        await audit(db, tryout, request, "student.enter", student=student_id)
        names.append(entry.name)
    if not names:
        raise Refusal(Reason.LIST_GONE)
    await board_changed(db, tryout)
    free = rules.not_here(await class_lists.entries(db, tryout.id))
    return Replace(message=words.not_here(free, 0, words.entered(names)))


@view(ClassKey.LIST_WAITING, "coach")
async def waiting(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Show who waits."""
    return Replace(message=words.waiting(await class_lists.waiting(db, tryout.id), page))


@view(ClassKey.LIST_WAITS, "coach")
async def one_waiting(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    waiting_id: int = 0,
    page: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one who waits, picked from the list or from the notice in the office, with a page of the free names."""
    one = await _waiting(db, tryout, picked or waiting_id)
    free = rules.not_here(await class_lists.entries(db, tryout.id), one.section)
    message = words.one_waiting(one, free, page or 0)
    return Say(message=message) if picked is None and page is None else Replace(message=message)


@act(ClassKey.LIST_LET_IN, "coach")
async def let_in(db: Transaction, tryout: Tryout, request: Request, waiting_id: int) -> Answer:
    """Let a stranger in: the name is put on the list."""
    one = await _waiting(db, tryout, waiting_id)
    student_id = await students.enter_student(db, tryout.id, one.platform_id, one.name, one.section)
    try:
        await class_lists.add_entry(db, tryout.id, one.name, name_keys(one.name).folded, one.section, student_id)
    except Conflict:
        raise Refusal(Reason.NAME_IN_USE, name=one.name) from None
    return await _decided(db, tryout, request, one, student_id)


@act(ClassKey.LIST_SAME, "coach")
async def same(db: Transaction, tryout: Tryout, request: Request, waiting_id: int, *, picked: int) -> Answer:
    """A stranger is somebody on the list."""
    one, entry = await _waiting(db, tryout, waiting_id), await class_lists.entry(db, tryout.id, picked)
    if entry is None or entry.student_id is not None:
        raise Refusal(Reason.LIST_GONE)
    student_id = await students.enter_student(db, tryout.id, one.platform_id, entry.name, entry.section)
    await class_lists.link(db, entry.id, student_id)
    return await _decided(db, tryout, request, one, student_id)


async def _decided(db: Transaction, tryout: Tryout, request: Request, one: WaitingStudent, student_id: int) -> Answer:
    await class_lists.stop_waiting(db, tryout.id, one.platform_id)
    await board_changed(db, tryout)
    await audit(db, tryout, request, "class-list.let-in", student=student_id)
    student = await students.student(db, student_id)
    assert student is not None
    return Replace(message=words.waiting(await class_lists.waiting(db, tryout.id), 0, words.let_in(student.name)))


@act(ClassKey.LIST_TURN_AWAY, "coach")
async def turn_away(db: Transaction, tryout: Tryout, request: Request, waiting_id: int) -> Answer:
    """A stranger does not take part."""
    one = await _waiting(db, tryout, waiting_id)
    await class_lists.stop_waiting(db, tryout.id, one.platform_id)
    await audit(db, tryout, request, "class-list.turn-away", waiting=one.id)
    return Replace(message=words.waiting(await class_lists.waiting(db, tryout.id), 0, words.turned_away(one.name)))


async def _waiting(db: Snapshot, tryout: Tryout, waiting_id: int) -> WaitingStudent:
    one = await class_lists.waiting_one(db, tryout.id, waiting_id)
    if one is None:
        raise Refusal(Reason.WAITING_GONE)
    return one


@act(ClassKey.LIST_LINK, "coach")
async def link(db: Transaction, tryout: Tryout, request: Request, entry_id: int, account: int) -> Answer:
    """The account that asked is the student whom the coach has entered."""
    entry = await class_lists.entry(db, tryout.id, entry_id)
    if entry is None or entry.student_id is None:
        raise Refusal(Reason.LIST_GONE)
    one, _ = await student_with_squad(db, tryout, entry.student_id)
    await link_account(db, tryout, request, one, account)
    await class_lists.stop_waiting(db, tryout.id, account)
    return Replace(message=words.linked(one.name))
