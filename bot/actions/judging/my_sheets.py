"""A judge's own list of sheets: the living one, and the one that is asked for."""

from datetime import datetime

from bot.actions.core.dispatch import view
from bot.actions.core.live_messages import live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.judging.calibration_trial import waiting
from bot.actions.judging.sheet_queries import entries_now, entries_of, me_as_judge
from bot.rules.judging.typed_marks import can_type, target
from bot.words.core.action_keys import ActionKey
from bot.words.judging import my_sheets as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, tryout_of_judge, typed_marks
from storage.tables.sql_session import Snapshot


@live_message("judge")
async def living_list(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """What the live message `judge/ID` shows; nothing for a judge who was removed."""
    judge = await judges.judge(db, int(key.partition("/")[2]))
    return None if judge is None or judge.removed else await own_list(db, tryout, judge)


@view(ActionKey.SHEETS_LIST, "judge")
async def my_list(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Show my sheets, here and now; a page of the list when one is asked for."""
    me = await me_as_judge(db, tryout, request)
    if page is not None:
        return Replace(message=await own_list(db, tryout, me, page, request.at))
    return Say(message=await own_list(db, tryout, me, now=request.at))


async def own_list(db: Snapshot, tryout: Tryout, judge: Judge, page: int = 0, now: datetime | None = None) -> Message:
    """A judge's living list as it is; asked for `now`, the squad that is before the judge comes first."""
    plain = await entries_of(db, tryout, judge)
    mine = plain if now is None else await entries_now(db, tryout, judge, now)
    typed = target(plain, await typed_marks.chosen(db, judge.id)) if can_type(judge) else None
    trial = await waiting(db, tryout, judge.id)
    others = await other_tryouts(db, tryout, judge)
    return words.my_sheets(tryout, mine, schedule_of(tryout), page, typed, trial, others)


async def other_tryouts(db: Snapshot, tryout: Tryout, judge: Judge) -> list[Tryout]:
    """The try-outs in which a judge judges besides this one, on other class servers."""
    return [one for one in await tryout_of_judge.tryouts_judged_by(db, judge.platform_id) if one.id != tryout.id]
