"""The published answers about the rules, as everyone reads them.

An answer is said once, in news, and stands in one pinned list there. Squad rooms are left alone: what is said to one
squad would have to be said to all, and what is said in all rooms pushes aside what each squad still owes.
"""

from bot.actions.core.dispatch import view
from bot.actions.core.live_messages import live_message
from bot.actions.questions.squad_asks import waiting_of
from bot.actions.squads.asking_student import me_of
from bot.rules.questions.squad_asks import asking_is_open
from bot.words.core.action_keys import ActionKey
from bot.words.questions import published_answers as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import questions
from storage.tables.sql_session import Snapshot


@view(ActionKey.RULES_ANSWERS)
async def answers(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show all answers."""
    return Say(message=await _page(db, tryout, request, 0))


@view(ActionKey.RULES_PAGE)
async def page(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of the answers."""
    return Replace(message=await _page(db, tryout, request, page))


@live_message("rules")
async def pinned(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The list of all answers, pinned in news."""
    return words.pinned(await questions.published(db, tryout.id), asking_is_open(tryout.state))


async def _page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Message:
    me = await me_of(db, tryout, request)
    mine = await waiting_of(db, tryout, me.squad_id) if me is not None and me.squad_id is not None else []
    return words.answers_page(await questions.published(db, tryout.id), number, len(mine))
