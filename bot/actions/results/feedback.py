"""Feedback for each squad: drafted from its own marks, edited by the coach, sent to its room."""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.results.offers import check_announced
from bot.actions.results.preview import outcome_of
from bot.actions.scoring.score_book import score_book
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.results.feedback import draft
from bot.words.core.action_keys import ActionKey
from bot.words.results import feedback as words
from bot.words.scoring.outcome import Outcome
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.offers_and_feedback import Feedback
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import offers_and_feedback, queueing
from storage.tables.sql_session import Snapshot, Transaction

SHORTEST = 10


@view(ActionKey.FEEDBACK_PANEL, "coach")
async def panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Every squad, and how far its feedback is."""
    return Say(message=await _panel(db, tryout, 0))


@view(ActionKey.FEEDBACK_PAGE, "coach")
async def page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Answer:
    """Another page of the squads."""
    return Replace(message=await _panel(db, tryout, number))


async def _panel(db: Snapshot, tryout: Tryout, number: int) -> Message:
    outcome = await _outcome(db, tryout)
    return words.panel(outcome, await offers_and_feedback.feedbacks(db, tryout.id), number)


@view(ActionKey.FEEDBACK_SQUAD, "coach")
async def read(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """One squad's feedback as it would be sent."""
    outcome = await _outcome(db, tryout)
    squad = _ranked(outcome, picked)
    kept = await offers_and_feedback.feedbacks(db, tryout.id)
    return Say(message=words.read(squad, text_of(outcome, squad, kept.get(squad.id)), kept.get(squad.id)))


@view(ActionKey.FEEDBACK_EDIT, "coach")
async def edit(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form with the text as it stands."""
    outcome = await _outcome(db, tryout)
    squad = _ranked(outcome, squad_id)
    kept = await offers_and_feedback.feedbacks(db, tryout.id)
    return Open(form=words.form(squad, text_of(outcome, squad, kept.get(squad.id))))


@act(ActionKey.FEEDBACK_EDITED, "coach")
async def keep(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Keep what the coach wrote; nothing is sent yet."""
    squad = _ranked(await _outcome(db, tryout), squad_id)
    text = request.fields.get("text", "").strip()
    if len(text) < SHORTEST:
        raise Refusal(Reason.FEEDBACK_SHORT)
    await offers_and_feedback.keep_feedback(db, squad.id, text[: words.LONGEST], request.at)
    await audit(db, tryout, request, "feedback.edit", squad=squad.id)
    kept = await offers_and_feedback.feedbacks(db, tryout.id)
    return Replace(message=words.read(squad, kept[squad.id].text, kept[squad.id]))


@act(ActionKey.FEEDBACK_SEND, "coach")
async def send(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Send one squad its feedback."""
    outcome = await _outcome(db, tryout)
    squad = _ranked(outcome, squad_id)
    await _send(db, tryout, request, outcome, squad)
    return Replace(message=words.sent(1))


@view(ActionKey.FEEDBACK_ALL, "coach")
async def ask_all(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before all are sent."""
    return Replace(message=words.sure_to_send_all(await _left(db, tryout, await _outcome(db, tryout))))


@act(ActionKey.FEEDBACK_SENT_ALL, "coach")
async def send_all(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Send every squad that has none yet its feedback."""
    outcome = await _outcome(db, tryout)
    left = await _left(db, tryout, outcome)
    for squad in left:
        await _send(db, tryout, request, outcome, squad)
    return Replace(message=words.sent(len(left)))


async def _send(db: Transaction, tryout: Tryout, request: Request, outcome: Outcome, squad: Squad) -> None:
    kept = (await offers_and_feedback.feedbacks(db, tryout.id)).get(squad.id)
    if kept is not None and kept.sent_at is not None:
        raise Refusal(Reason.FEEDBACK_SENT, squad=squad.name)
    text = text_of(outcome, squad, kept)
    await offers_and_feedback.feedback_sent(db, squad.id, text, request.at)
    await queueing.enqueue(db, tryout.id, f"squad/{squad.id}", words.letter(text), request.at)
    await audit(db, tryout, request, "feedback.send", squad=squad.id)


async def _left(db: Snapshot, tryout: Tryout, outcome: Outcome) -> list[Squad]:
    kept = await offers_and_feedback.feedbacks(db, tryout.id)
    sent = {squad_id for squad_id, one in kept.items() if one.sent_at is not None}
    rows = sorted(outcome.standings.rows, key=lambda row: row.number)
    return [outcome.squads[row.squad_id] for row in rows if row.squad_id not in sent]


async def _outcome(db: Snapshot, tryout: Tryout) -> Outcome:
    check_announced(tryout)
    return outcome_of(await score_book(db, tryout))


def _ranked(outcome: Outcome, squad_id: int) -> Squad:
    if all(row.squad_id != squad_id for row in outcome.standings.rows):
        raise Refusal(Reason.SQUAD_GONE)
    return outcome.squads[squad_id]


def text_of(outcome: Outcome, squad: Squad, kept: Feedback | None) -> str:
    """The coach's text, or the draft."""
    if kept is not None:
        return kept.text
    row = outcome.standings.row(squad.id)
    return words.drafted(outcome, row, draft(outcome.plan, row))
