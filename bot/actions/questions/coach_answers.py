"""The coach answers questions about the rules: to everyone at once, merged with an earlier answer, or set aside."""

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.core.live_messages import live_message
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.questions import coach_answers as rules
from bot.rules.questions import squad_asks as ask_rules
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.questions import coach_answers as words
from bot.words.questions import published_answers as public
from storage.records.message import Answer, Form, Message, Open, Replace
from storage.records.people import Squad
from storage.records.questions import Clarification, ClarificationDraft, Question, QuestionState
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, questions, squads, students
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.surprises import waiting as surprises_to_come

DRAFTED = "rules.draft"


@live_message("question")
async def question_in_office(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """One question in the office, and afterwards what became of it; gone once its words were erased unanswered."""
    question = await questions.question(db, int(key.partition("/")[2]))
    squad = await squads.squad(db, question.squad_id) if question is not None else None
    if question is None or squad is None:
        return None
    if question.state != "open":
        return words.settled(question, squad)
    return words.waiting(question, squad, await _asker(db, question)) if question.text else None


@view(ActionKey.RULES_PANEL, "coach")
async def answer_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """What waits, and what was published."""
    return Replace(message=await _panel(db, tryout, 0))


@view(ActionKey.RULES_PANEL_PAGE, "coach")
async def panel_page(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of what was published."""
    return Replace(message=await _panel(db, tryout, page))


@view(ActionKey.RULES_QUESTION, "coach")
async def read(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """One question that waits, picked in the panel."""
    question, squad = await _open(db, tryout, picked)
    return Replace(message=words.answer_opened(question, squad, await _asker(db, question)))


@view(ActionKey.RULES_ANSWER, "coach")
async def answer_form(db: Snapshot, tryout: Tryout, request: Request, question_id: int) -> Answer:
    """Open the form for an answer, with what has been written so far."""
    question, _ = await _open(db, tryout, question_id)
    return Open(form=stamped(await _form(db, tryout, question)))


@view(ActionKey.RULES_UNASKED, "coach")
async def unasked_form(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for what was asked in class."""
    return Open(form=stamped(await _form(db, tryout, None)))


async def _form(db: Snapshot, tryout: Tryout, question: Question | None) -> Form:
    """The form for an answer as it would open now."""
    draft = await questions.draft_for(db, tryout.id, question.id if question else None, None)
    if question is None:
        return words.unasked_form(draft.question, draft.answer) if draft else words.unasked_form()
    if draft is None:
        return words.answer_form(question.id, question.text)
    return words.answer_form(question.id, draft.question, draft.answer)


@view(ActionKey.RULES_CORRECT, "coach")
async def correction_form(
    db: Snapshot, tryout: Tryout, request: Request, number: int | None = None, *, picked: int | None = None
) -> Answer:
    """Open the form for another wording of a published answer."""
    return Open(form=stamped(await _correction(db, tryout, await _published(db, tryout, given(picked, number)))))


async def _correction(db: Snapshot, tryout: Tryout, one: Clarification) -> Form:
    """The form for another wording as it would open now."""
    draft = await questions.draft_for(db, tryout.id, None, one.number)
    if draft is None:
        return words.correction_form(one.number, one.question, one.answer)
    return words.correction_form(one.number, draft.question, draft.answer, draft.change)


@act(ActionKey.RULES_DRAFTED, "coach")
async def keep_answer(
    db: Transaction, tryout: Tryout, request: Request, question_id: int = words.UNASKED, stamp: str = ""
) -> Answer:
    """Keep an answer, if nobody else has written one meanwhile, and show exactly what everyone would read."""
    question = None if question_id == words.UNASKED else (await _open(db, tryout, question_id))[0]
    opens = (ActionKey.RULES_ANSWER, question.id) if question else (ActionKey.RULES_UNASKED,)
    now, about = await _form(db, tryout, question), question.id if question else None
    written = await questions.draft_for(db, tryout.id, about, None)
    noted = Noted((DRAFTED,), {"question": about, "number": None}) if written is not None else None
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    return await _kept(db, tryout, request, about, None, "")


@act(ActionKey.RULES_CORRECTED, "coach")
async def keep_correction(db: Transaction, tryout: Tryout, request: Request, number: int, stamp: str = "") -> Answer:
    """Keep a correction, if nobody else has written one meanwhile, and show exactly what everyone would read."""
    one = await _published(db, tryout, number)
    now = await _correction(db, tryout, one)
    noted = Noted((DRAFTED, "rules.publish"), {"number": number})
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.RULES_CORRECT, number), noted)) is not None:
        return told
    change = rules.tidy_change(request.fields.get("change", ""))
    return await _kept(db, tryout, request, None, one, change)


@act(ActionKey.RULES_PUBLISH, "coach")
async def publish(db: Transaction, tryout: Tryout, request: Request, draft_id: int, number: int) -> Answer:
    """Say an answer to everyone at once, in news, where the list of all answers is pinned."""
    draft = await questions.draft(db, draft_id)
    if draft is None or draft.tryout_id != tryout.id:
        raise Refusal(Reason.ANSWER_NOT_KEPT)
    one = await _worded(db, draft, request)
    if one.number != number:
        # Another answer was published since this one was read, and took its number.
        return Replace(message=await _sure(db, tryout, draft, one))
    await questions.publish(db, one)
    if draft.question_id is not None:
        await _settle(db, tryout, draft.question_id, "answered", one.number, request)
    await questions.drop_draft(db, tryout.id, draft.question_id, draft.number)
    await outbox.enqueue(db, tryout.id, "news", public.in_news(one), request.at)
    await live_messages.place(db, tryout.id, "rules", "news", pinned=True)
    await audit(db, tryout, request, "rules.publish", number=one.number, version=one.version)
    return Replace(message=words.published(one))


@view(ActionKey.RULES_MERGE, "coach")
async def pick_earlier(db: Snapshot, tryout: Tryout, request: Request, question_id: int) -> Answer:
    """Ask which published answer answers a question too."""
    return Replace(message=await _pick(db, tryout, question_id, 0))


@view(ActionKey.RULES_MERGE_PAGE, "coach")
async def pick_page(db: Snapshot, tryout: Tryout, request: Request, page: int, question_id: int) -> Answer:
    """Another page of published answers to merge with."""
    return Replace(message=await _pick(db, tryout, question_id, page))


@view(ActionKey.RULES_MERGE_WITH, "coach")
async def ask_to_merge(db: Snapshot, tryout: Tryout, request: Request, question_id: int, *, picked: int) -> Answer:
    """Ask once, with question and answer side by side."""
    question, squad = await _open(db, tryout, question_id)
    one = await _published(db, tryout, picked)
    return Replace(message=words.sure_to_merge(question, one, squad, words.answered_before(one)))


@act(ActionKey.RULES_MERGED, "coach")
async def merge(db: Transaction, tryout: Tryout, request: Request, question_id: int, number: int) -> Answer:
    """Take a published answer as the answer to a question, and show its squad where that stands."""
    question, squad = await _open(db, tryout, question_id)
    one = await _published(db, tryout, number)
    await _settle(db, tryout, question.id, "merged", one.number, request)
    if rules.squad_is_told(squad):
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.answered_before(one), request.at)
    await audit(db, tryout, request, "rules.merge", question=question.id, number=one.number)
    return Replace(message=words.merged(one))


@view(ActionKey.RULES_ASIDE, "coach")
async def ask_to_set_aside(db: Snapshot, tryout: Tryout, request: Request, question_id: int) -> Answer:
    """Ask once before a question is deleted."""
    question, squad = await _open(db, tryout, question_id)
    return Replace(message=words.sure_to_set_aside(question, squad, await _asker(db, question)))


@act(ActionKey.RULES_SET_ASIDE, "coach")
async def set_aside(db: Transaction, tryout: Tryout, request: Request, question_id: int) -> Answer:
    """Delete the text of a question that is none about the rules."""
    question, _ = await _open(db, tryout, question_id)
    await _settle(db, tryout, question.id, "aside", None, request)
    await audit(db, tryout, request, "rules.set-aside", question=question.id)
    return Replace(message=words.set_aside())


async def _panel(db: Snapshot, tryout: Tryout, page: int) -> Message:
    found = [(one, await squads.squad(db, one.squad_id)) for one in await questions.waiting(db, tryout.id)]
    waiting = [(one, squad) for one, squad in found if squad is not None]
    return words.answer_panel(waiting, await questions.published(db, tryout.id), page)


async def _pick(db: Snapshot, tryout: Tryout, question_id: int, page: int) -> Message:
    question, _ = await _open(db, tryout, question_id)
    answers = await questions.published(db, tryout.id)
    rules.check_any_published(answers)
    return words.pick_earlier(question, answers, page)


async def _open(db: Snapshot, tryout: Tryout, question_id: int) -> tuple[Question, Squad]:
    question = await questions.question(db, question_id)
    squad = await squads.squad(db, question.squad_id) if question is not None else None
    if question is None or squad is None or question.tryout_id != tryout.id:
        raise Refusal(Reason.QUESTION_GONE)
    rules.check_waits(question)
    return question, squad


async def _published(db: Snapshot, tryout: Tryout, number: int) -> Clarification:
    for one in await questions.published(db, tryout.id):
        if one.number == number:
            return one
    raise Refusal(Reason.ANSWER_GONE)


async def _asker(db: Snapshot, question: Question) -> str:
    student = await students.student(db, question.student_id) if question.student_id is not None else None
    return student.name if student is not None else ""


async def _kept(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    question_id: int | None,
    before: Clarification | None,
    change: str,
) -> Answer:
    """Keep a wording, and show what would be said; `before` is the published answer that it corrects."""
    rules.check_may_answer(tryout.state)
    question = ask_rules.tidy_question(request.fields.get("question", ""))
    answer = rules.tidy_answer(request.fields.get("answer", ""))
    rules.check_differs(question, answer, before)
    number = before.number if before is not None else None
    draft_id = await questions.keep_draft(db, tryout.id, question_id, number, question, answer, change)
    draft = await questions.draft(db, draft_id)
    assert draft is not None
    one = await _worded(db, draft, request)
    rules.check_fits(public.shown(one))
    await audit(db, tryout, request, DRAFTED, question=question_id, number=number)
    return Replace(message=await _sure(db, tryout, draft, one))


async def _worded(db: Snapshot, draft: ClarificationDraft, request: Request) -> Clarification:
    """A draft as it would be published now."""
    number = draft.number or await questions.next_number(db, draft.tryout_id)
    return Clarification(
        tryout_id=draft.tryout_id,
        number=number,
        version=await questions.next_version(db, draft.tryout_id, number),
        question=draft.question,
        answer=draft.answer,
        change=draft.change,
        published_at=request.at,
    )


async def _sure(db: Snapshot, tryout: Tryout, draft: ClarificationDraft, one: Clarification) -> Message:
    return words.answer_sure(one, draft, rules.names_a_secret(one, await surprises_to_come(db, tryout)))


async def _settle(
    db: Transaction, tryout: Tryout, question_id: int, state: QuestionState, number: int | None, request: Request
) -> None:
    """A question waits no more: its text, and what was written in answer, are forgotten; its message tells the rest."""
    if not await questions.settle(db, question_id, state, number, request.at):
        raise Refusal(Reason.QUESTION_SETTLED)
    await questions.forget_wordings(db, question_id, words.answer_key(question_id))
    await live_messages.mark_stale(db, tryout.id, f"question/{question_id}")
