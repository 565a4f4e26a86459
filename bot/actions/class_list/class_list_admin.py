"""The class list as the coach looks after it: its numbers, yes and no by squad, who has not signed up; its removal."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_changed import board_changed
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.class_list import class_list_admin as rules
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.class_list import class_list_admin as words
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import shown_stamp
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, students, waiting_students
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.LIST_PANEL, "coach")
async def panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the list in numbers."""
    return Replace(message=await panel_of(db, tryout))


async def panel_of(db: Snapshot, tryout: Tryout, said: str = "") -> Message:
    """The list in numbers, or that there is none."""
    one = await class_lists.class_list(db, tryout.id)
    if one is None:
        return words.no_list()
    entries = await class_lists.entries(db, tryout.id)
    strangers = rules.strangers(await students.students(db, tryout.id), entries)
    return words.panel(one, entries, len(await waiting_students.waiting(db, tryout.id)), strangers, said)


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


@view(ClassKey.LIST_ASK_REMOVE, "coach")
async def ask_remove(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before the list is erased."""
    return Replace(message=words.sure_to_remove())


@act(ClassKey.LIST_REMOVED, "coach")
async def remove(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Erase the list, and let go of whoever waits."""
    for one in await waiting_students.waiting(db, tryout.id):
        await waiting_students.stop_waiting(db, tryout.id, one.platform_id)
    await class_lists.remove_list(db, tryout.id)
    await audit(db, tryout, request, "class-list.removed")
    return Replace(message=await panel_of(db, tryout))
