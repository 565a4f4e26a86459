"""A squad asks about the rules: the question goes to the coach."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.asking_student import me_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.questions import squad_asks as rules
from bot.words.core.action_keys import ActionKey
from bot.words.questions import squad_asks as words
from storage.records.message import Answer, Open, Say
from storage.records.people import Squad, Student
from storage.records.questions import Question
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, questions, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.RULES_ASK)
async def form(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a question, for members of a squad."""
    _, _, waiting = await _asker(db, tryout, request)
    rules.check_may_ask(waiting)
    return Open(form=words.ask_form())


@act(ActionKey.RULES_ASKED)
async def ask_about_rules(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Pass a question on to the coach."""
    me, squad, waiting = await _asker(db, tryout, request)
    text = rules.tidy_question(request.fields.get("question", ""))
    rules.check_is_new(text, waiting)
    rules.check_may_ask(waiting)
    question_id = await questions.ask(db, tryout.id, squad.id, me.id, text, request.at)
    await live_messages.place(db, tryout.id, f"question/{question_id}", "office")
    await audit(db, tryout, request, "rules.ask", question=question_id, squad=squad.id)
    return Say(message=words.asked(len(waiting) + 1))


async def _asker(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, Squad, list[Question]]:
    """Who asks, the squad, and its questions that wait, if this is the time to ask."""
    rules.check_asking_open(tryout.state)
    me = await me_of(db, tryout, request)
    squad = await squads.squad(db, me.squad_id) if me and me.squad_id else None
    if me is None or squad is None:
        raise Refusal(Reason.QUESTIONS_SQUADS)
    return me, squad, await waiting_of(db, tryout, squad.id)


async def waiting_of(db: Snapshot, tryout: Tryout, squad_id: int) -> list[Question]:
    """The questions of a squad that wait for an answer."""
    return [one for one in await questions.waiting(db, tryout.id) if one.squad_id == squad_id]
