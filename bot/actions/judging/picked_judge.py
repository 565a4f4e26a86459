"""Which judge is meant: the one of a button or a list, or the person of a command."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges
from storage.tables.sql_session import Snapshot


async def picked_judge(db: Snapshot, tryout: Tryout, request: Request, judge_id: int | None) -> Judge:
    """The judge of a button or a list (by id), or of a command (by person)."""
    if request.people:
        found = await judges.judge_of(db, tryout.id, request.people[0].id)
        if found is None:
            raise Refusal(Reason.NOT_A_JUDGE)
        return found
    if judge_id is None:
        raise Refusal(Reason.NOT_A_JUDGE)
    return await judge_of_tryout(db, tryout, judge_id)


async def judge_of_tryout(db: Snapshot, tryout: Tryout, judge_id: int) -> Judge:
    """The judge of an id, if it is one of this try-out now; or a Refusal: `not_a_judge`."""
    found = await judges.judge(db, judge_id)
    if found is None or found.removed or found.tryout_id != tryout.id:
        raise Refusal(Reason.NOT_A_JUDGE)
    return found
