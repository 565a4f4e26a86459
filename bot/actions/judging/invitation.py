"""A judge who was asked accepts or declines; whoever declines is told to the office, once a day at most."""

from bot.actions.core.dispatch import act, audit
from bot.actions.core.followers import when_judges_change
from bot.actions.delivery.outbox_outcome import take_direct_again
from bot.actions.judging.sheet_queries import me_as_judge
from bot.words.core.action_keys import ActionKey
from bot.words.judging import invitation as words
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, live_messages, outbox
from storage.tables.sql_session import Transaction


@act(ActionKey.SHEETS_START, "judge")
async def start(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Agree to judge and to get private messages; the list is sent."""
    me = await me_as_judge(db, tryout, request)
    await judges.opt_in(db, me.id, request.name, request.at)
    await take_direct_again(db, tryout.id, me.id)
    await live_messages.place(db, tryout.id, f"judge/{me.id}", f"judge/{me.id}", pinned=False)
    await when_judges_change.tell(db, tryout, request.at)
    await audit(db, tryout, request, "judge.start", judge=me.id)
    return Say(message=words.welcome())


@act(ActionKey.SHEETS_DECLINE, "judge")
async def decline(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Tell the coach, once a day at most, that a judge who was asked cannot judge; the coach takes them off."""
    me = await me_as_judge(db, tryout, request)
    if me.declined_at is None or me.declined_at.date() != request.at.date():
        await judges.note_declined(db, me.id, request.at)
        await outbox.enqueue(db, tryout.id, "office", words.told_declined(me), request.at)
        await audit(db, tryout, request, "judge.decline", judge=me.id)
    return Say(message=words.declined())
