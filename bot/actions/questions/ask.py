"""Questions about the rules as everyone meets them: a squad asks, everyone reads the answers.

An answer is said once, in news, and stands in one pinned list there. Squad rooms are left alone: what is said to one
squad would have to be said to all, and what is said in all rooms pushes aside what each squad still owes.
"""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.core.live_messages import live_message
from bot.actions.squads.squad_changes import me_of
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.questions import rule_questions as rules
from bot.words.core.action_keys import ActionKey
from bot.words.questions import ask as words
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.questions import Question
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import questions, queueing, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.RULES_ASK)
async def form(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a question, for members of a squad."""
    _, _, waiting = await _asker(db, tryout, request)
    rules.check_may_ask(waiting)
    return Open(form=words.ask_form())


@act(ActionKey.RULES_ASKED)
async def ask(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Pass a question on to the coach."""
    me, squad, waiting = await _asker(db, tryout, request)
    text = rules.tidy_question(request.fields.get("question", ""))
    rules.check_is_new(text, waiting)
    rules.check_may_ask(waiting)
    question_id = await questions.ask(db, tryout.id, squad.id, me.id, text, request.at)
    await queueing.place_live_message(db, tryout.id, f"question/{question_id}", "office")
    await audit(db, tryout, request, "rules.ask", question=question_id, squad=squad.id)
    return Say(message=words.asked(len(waiting) + 1))


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
    return words.pinned(await questions.published(db, tryout.id))


async def _page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Message:
    me = await me_of(db, tryout, request)
    mine = await _waiting_of(db, tryout, me.squad_id) if me is not None and me.squad_id is not None else []
    return words.ask_opened(await questions.published(db, tryout.id), number, len(mine))


async def _asker(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, Squad, list[Question]]:
    """Who asks, the squad, and its questions that wait, if this is the time to ask."""
    rules.check_asking_open(tryout.state)
    me = await me_of(db, tryout, request)
    squad = await squads.squad(db, me.squad_id) if me and me.squad_id else None
    if me is None or squad is None:
        raise Refusal(Reason.QUESTIONS_SQUADS)
    return me, squad, await _waiting_of(db, tryout, squad.id)


async def _waiting_of(db: Snapshot, tryout: Tryout, squad_id: int) -> list[Question]:
    return [one for one in await questions.waiting(db, tryout.id) if one.squad_id == squad_id]
