"""Sign-up is opened: asked once with what the class will read, then the board, the news and all that follows."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.rescheduling import reschedule
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.office.readiness import before_step
from bot.actions.squads.squads_changed import every_squad_changed
from bot.rules.office.open_sign_up import check_may_open
from bot.rules.plan.read_plan import short_fingerprint
from bot.words.core.action_keys import ActionKey
from bot.words.office import open_sign_up as words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SIGNUP_ASK, "coach")
async def ask_to_open(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what the class will read, before sign-up opens."""
    check_may_open(tryout.state)
    lacking, stop = await before_step(db, tryout, request.at, "open")
    return stop or Replace(message=words.sure_to_open(_news(tryout), lacking, short_fingerprint(tryout.plan)))


@act(ActionKey.SIGNUP_OPEN, "coach")
async def open_signup(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Open sign-up for the plan that was shown: the pinned message, the board, the news, and all that follows.

    Another plan is shown first; buttons of older versions do not say which one was shown.
    """
    check_may_open(tryout.state)
    lacking, stop = await before_step(db, tryout, request.at, "open")
    if stop is not None:
        return stop
    now = short_fingerprint(tryout.plan)
    if stamp != now:
        return Replace(message=words.sure_to_open(_news(tryout), lacking, now, changed=True))
    await tryouts.set_state(db, tryout.id, "signup")
    await live_messages.place(db, tryout.id, "signup", "signup", pinned=True)
    await every_squad_changed(db, tryout)
    await outbox.enqueue(db, tryout.id, "news", _news(tryout), request.at)
    await reschedule(db, tryout.id, request.at)
    await audit(db, tryout, request, "signup.open")
    return Replace(message=words.signup_opened())


def _news(tryout: Tryout) -> Message:
    return words.signup_opens(tryout.plan, schedule_of(tryout), tryout.rooms["signup"])
