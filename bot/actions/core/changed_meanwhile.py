"""Forms that open with a stored text: whoever sends one too late reads what stands now, and who changed it last."""

from dataclasses import dataclass, field

from bot.actions.core.roles import roles
from bot.rules.core.audit_pseudonyms import NOBODY, is_by
from bot.rules.core.changed_meanwhile import is_overtaken, read_by_name
from bot.words.core import changed_meanwhile as words
from bot.words.core.action_keys import AnyKey
from storage.records.message import Form, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import audit_log, helpers, judges, squads, students
from storage.tables.sql_session import Snapshot, Value


@dataclass(frozen=True)
class Noted:
    """How changes of a text stand in the audit log: their actions, and what their details say it is about."""

    actions: tuple[str, ...]
    about: dict[str, Value] = field(default_factory=dict)
    what: str = words.THIS
    """What was changed, at the beginning of a sentence."""


PLAN = Noted(("plan.change",), what=words.PLAN)


async def overtaken(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    now: Form,
    stamp: str,
    opens: tuple[AnyKey, *tuple[object, ...]],
    noted: Noted | None,
) -> Say | None:
    """What somebody reads whose form opened with another text than it would now; None where nothing is lost.

    `now` is the form as it would open now, `stamp` what the form that was sent carries, `opens` the key that opens it
    with what that carries; `noted` is None where nobody has written what stands now.
    """
    differs = bool(words.differing(now, request.fields))
    if not is_overtaken(stamp, words.stamp_of(now), differs=differs):
        return None
    last = "" if noted is None else await _last_change(db, tryout, request, noted)
    return Say(message=words.both_texts(now, request.fields, last, bool(request.uploads), *opens))


async def _last_change(db: Snapshot, tryout: Tryout, request: Request, noted: Noted) -> str:
    entry = await audit_log.last_of(db, tryout.id, noted.actions, noted.about)
    if entry is None or entry.actor == NOBODY:
        return ""
    by = await _name_of(db, tryout, request, entry.actor)
    return words.last_changed(noted.what, by, entry.at)


async def _name_of(db: Snapshot, tryout: Tryout, request: Request, actor: str) -> str:
    """Who stands in the log, as far as the reader may know it.

    A coach knows everybody by name, who works at a table those who run the try-out, a member the others of the squad
    and that a coach is a coach.
    """

    def means(account: int | None) -> bool:
        return account is not None and is_by(actor, tryout.audit_key, account)

    if means(request.who):
        return words.YOU
    named = read_by_name(await roles(db, tryout, request))
    officers = await helpers.officers(db, tryout.id)
    if "officers" not in named and any(one.role == "coach" and means(one.platform_id) for one in officers):
        return words.YOUR_COACH
    known = [(one.platform_id, one.name) for one in officers] if "officers" in named else []
    if "judges" in named:
        known += [(one.platform_id, one.name) for one in await judges.judges(db, tryout.id)]
    if "students" in named:
        known += [(one.platform_id, one.name) for one in await students.students(db, tryout.id) if one.platform_id]
    if "own squad" in named:
        me = await students.student_of(db, tryout.id, request.who)
        mates = await squads.members(db, me.squad_id) if me is not None and me.squad_id is not None else []
        known = [(one.platform_id, one.name) for one in mates if one.platform_id]
    return next((words.named(name) for account, name in known if means(account)), words.SOMEBODY_ELSE)
