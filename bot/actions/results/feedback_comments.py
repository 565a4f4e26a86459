"""What judges wrote about a squad, for the coach, who ticks what goes out with the feedback."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.results.feedback import announced_book, ranked, result_of, text_of
from bot.actions.scoring.score_book import outcome_of
from bot.rules.results.feedback import is_sent
from bot.rules.results.feedback_comments import check_fits, comments_of
from bot.words.core.action_keys import ActionKey
from bot.words.results import feedback_comments as words
from bot.words.scoring.result_view import ResultView
from storage.records.message import Answer, Message, Replace
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.results import Feedback
from storage.records.tryout import Tryout
from storage.tables import squad_feedback
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.FEEDBACK_COMMENTS, "coach")
async def read_comments(db: Snapshot, tryout: Tryout, request: Request, number: int, squad_id: int) -> Work[Answer]:
    """What judges wrote about a squad."""
    book, feedbacks = await announced_book(db, tryout), await squad_feedback.feedbacks(db, tryout.id)

    def show() -> Answer:
        result = outcome_of(book)
        squad = ranked(result, squad_id)
        return Replace(message=_comments_page(result, squad, feedbacks.get(squad.id), number))

    return show


@act(ActionKey.FEEDBACK_TICKED, "coach")
async def tick(
    db: Transaction, tryout: Tryout, request: Request, squad_id: int, number: int, *, picked: tuple[str, ...]
) -> Answer:
    """Keep the feedback with the ticked comments of this page below it; nothing is sent yet."""
    result = await result_of(db, tryout)
    squad = ranked(result, squad_id)
    kept = (await squad_feedback.feedbacks(db, tryout.id)).get(squad.id)
    before = text_of(result, squad, kept)
    shown = words.on_page(result, comments_of(result.book, squad.id), number)
    text = words.with_ticked(before, shown, picked)
    check_fits(text)
    if text != before:
        await squad_feedback.keep_feedback(db, squad.id, text, request.at)
        await audit(db, tryout, request, "feedback.edit", squad=squad.id)
        kept = (await squad_feedback.feedbacks(db, tryout.id))[squad.id]
    return Replace(message=_comments_page(result, squad, kept, number))


def _comments_page(result: ResultView, squad: Squad, kept: Feedback | None, number: int) -> Message:
    found = comments_of(result.book, squad.id)
    return words.comments(result, squad, found, text_of(result, squad, kept), number, is_sent(kept))
