"""The coach finds a student or a squad by a few letters of the name, from People or with the command."""

from bot.actions.core.dispatch import view
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_admin import squad_of, squad_page
from bot.actions.squads.students_admin import student_page
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import find_student_or_squad as rules
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.slash_command_texts import suggestions
from bot.words.squads import find_student_or_squad as words
from storage.records.message import Answer, Choice, Message, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@view(ClassKey.FIND_ASK, "coach")
async def ask_whom_to_find(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a few letters of a name."""
    return Open(form=words.find_form())


@view(ClassKey.FIND, "coach")
async def find(db: Snapshot, tryout: Tryout, request: Request, *, picked: str | None = None) -> Answer:
    """Show the one student or squad that fits, or those from which to pick."""
    said = picked or " ".join(request.fields.get("find", "").split())
    if said.startswith((words.STUDENT, words.SQUAD)):
        return Say(message=await _page(db, tryout, said))
    found = await _fitting(db, tryout, said)
    if not found:
        raise Refusal(Reason.NOBODY_FOUND, find=said)
    if len(found) == 1:
        return Say(message=await _page(db, tryout, found[0].value))
    return Say(message=words.several(found))


@view(ClassKey.FIND_SUGGEST, "coach")
async def suggest(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """What fits the letters typed so far of a command."""
    return Say(message=suggestions(await _fitting(db, tryout, request.fields.get("typed", ""))))


async def _page(db: Snapshot, tryout: Tryout, value: str) -> Message:
    number = value[len(words.STUDENT) :]
    if not number.isdecimal() or len(number) > 18:
        raise Refusal(Reason.OUT_OF_DATE)
    if value.startswith(words.STUDENT):
        return await student_page(db, tryout, int(number))
    return await squad_page(db, tryout, await squad_of(db, tryout, int(number)))


async def _fitting(db: Snapshot, tryout: Tryout, said: str) -> tuple[Choice, ...]:
    """Whose names hold these letters, those that begin with them first."""
    rows = await by_squad(db, tryout)
    students = rules.students_in_order(((one, squad) for squad, members in rows for one in members), said)
    squads = rules.squads_in_order((squad for squad, _ in rows if squad is not None), said)
    return words.choices(students, squads)
