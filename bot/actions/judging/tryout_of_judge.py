"""A judge of several try-outs, on other class servers, says which one the private messages are about."""

from bot.actions.core.dispatch import act
from bot.actions.judging.my_sheets import own_list
from bot.actions.judging.sheet_queries import me_as_judge
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import tryout_of_judge
from storage.tables.sql_session import Transaction


@act(ActionKey.SHEETS_SWITCH, "judge")
async def switch(db: Transaction, tryout: Tryout, request: Request, tryout_id: int) -> Answer:
    """A judge of several try-outs says which one the private messages are about from now on."""
    me = await me_as_judge(db, tryout, request)
    if tryout_id != tryout.id:
        raise Refusal(Reason.OUT_OF_DATE)
    await tryout_of_judge.choose_tryout(db, me.id, request.at)
    return Say(message=await own_list(db, tryout, me))
