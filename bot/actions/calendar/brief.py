"""The brief is read, page by page, and given as a file; who has read it is noted. The pinned message leads to it."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.live_messages import live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.asking_student import me_of
from bot.rules.calendar.brief import check_out, is_read
from bot.rules.questions.squad_asks import asking_is_open
from bot.words.calendar import brief as words
from bot.words.core.action_keys import ActionKey
from bot.words.plan.public_plan import as_file as plan_as_file
from bot.words.plan.public_plan import public_plan
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import students, surprises
from storage.tables.sql_session import Snapshot, Transaction


@act(ActionKey.BRIEF_OPEN)
async def open_brief(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Show the brief from its first page."""
    return Say(message=await _read(db, tryout, request, 0))


@act(ActionKey.BRIEF_PAGE)
async def page(db: Transaction, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of the brief."""
    return Replace(message=await _read(db, tryout, request, page))


@view(ActionKey.BRIEF_FILE)
async def as_file(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Give anybody the rules as a file, whose SHA-256 was posted."""
    check_out(tryout.brief_at, schedule_of(tryout).brief)
    return Say(message=plan_as_file(public_plan(tryout.plan, await surprises.started(db, tryout.id))))


async def _read(db: Transaction, tryout: Tryout, request: Request, page: int) -> Message:
    """A page of the brief; it is noted once this student has read the brief."""
    check_out(tryout.brief_at, schedule_of(tryout).brief)
    started = await surprises.started(db, tryout.id)
    if is_read(page, words.number_of_pages(tryout.plan, schedule_of(tryout), started)):
        me = await me_of(db, tryout, request)
        if me is not None and me.brief_opened_at is None:
            await students.brief_opened(db, me.id, request.at)
            await audit(db, tryout, request, "brief.open", student=me.id)
    return words.brief_opened(tryout.plan, schedule_of(tryout), page, started)


@live_message("brief")
async def pinned_rules(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The pinned message about the rules; there is none before the brief is out."""
    if tryout.brief_at is None:
        return None
    started = await surprises.started(db, tryout.id)
    public = public_plan(tryout.plan, started)
    return words.pinned_rules(tryout.plan, schedule_of(tryout), public, asking_is_open(tryout.state))
