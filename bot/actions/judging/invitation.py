"""Judges are asked in the news, accept or decline; whoever declines is told to the office, once a day at most."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.core.followers import when_judges_change
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.delivery import direct_messages
from bot.actions.judging.picked_judge import picked_judge
from bot.actions.judging.sheet_queries import me_as_judge
from bot.rules.judging.invitation import check_may_ask_again, is_told
from bot.words.core.action_keys import ActionKey
from bot.words.judging import invitation as words
from storage.records.message import Answer, Replace, Say
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, live_messages, outbox
from storage.tables.sql_session import Transaction


async def ask_in_news(db: Transaction, tryout: Tryout, asked: Sequence[Judge], now: datetime) -> None:
    """Ask people in the news to judge."""
    await outbox.enqueue(db, tryout.id, "news", words.invitation(tryout, schedule_of(tryout), asked), now)


@act(ActionKey.SHEETS_START, "judge")
async def start(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Agree to judge and to get private messages; the list is sent."""
    me = await me_as_judge(db, tryout, request)
    await judges.opt_in(db, me.id, request.name, request.at)
    await direct_messages.take_again(db, tryout.id, me.id)
    await live_messages.place(db, tryout.id, f"judge/{me.id}", f"judge/{me.id}", pinned=False)
    await when_judges_change.tell(db, tryout, request.at)
    await audit(db, tryout, request, "judge.start", judge=me.id)
    return Say(message=words.welcome())


@act(ActionKey.SHEETS_DECLINE, "judge")
async def decline(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Tell the coach, once a day at most, that a judge who was asked cannot judge; the coach takes them off."""
    me = await me_as_judge(db, tryout, request)
    if is_told(me.declined_at, request.at):
        await judges.note_declined(db, me.id, request.at)
        await outbox.enqueue(db, tryout.id, "office", words.told_declined(me), request.at)
        await audit(db, tryout, request, "judge.decline", judge=me.id)
    return Say(message=words.declined())


@act(ActionKey.JUDGES_ASK, "coach")
async def ask_again(
    db: Transaction, tryout: Tryout, request: Request, judge_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Ask a judge who has not answered once more."""
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    check_may_ask_again(judge)
    await ask_in_news(db, tryout, [judge], request.at)
    await audit(db, tryout, request, "judge.ask", judge=judge.id)
    return Replace(message=words.asked_again(judge))
