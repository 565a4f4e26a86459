"""Feedback for each squad: drafted from its marks, edited by the coach, sent to its room, anew after a correction."""

from collections.abc import Mapping

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import Work, act, view
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.results.announce import check_announced
from bot.rules.results.feedback import check_not_sent, is_sent, not_sent_yet, read_text, what_becomes_of
from bot.rules.results.feedback_comments import comments_of, judge_comments
from bot.rules.results.feedback_draft import draft
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.core.custom_ids import shown_stamp
from bot.words.core.plain_text import visible
from bot.words.results import feedback as words
from bot.words.results.feedback_draft import drafted
from bot.words.scoring.result_view import ResultView
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.results import Feedback
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import outbox, squad_feedback
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.FEEDBACK_PANEL, "coach")
async def feedback_panel(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Every squad, and how far its feedback is."""
    page = await _panel(db, tryout, 0)
    return lambda: Say(message=page())


@view(ActionKey.FEEDBACK_PAGE, "coach")
async def feedback_page(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Work[Answer]:
    """Another page of the squads."""
    page = await _panel(db, tryout, number)
    return lambda: Replace(message=page())


async def _panel(db: Snapshot, tryout: Tryout, number: int) -> Work[Message]:
    book, kept = await announced_book(db, tryout), await squad_feedback.feedbacks(db, tryout.id)

    def page() -> Message:
        written = {squad_id: len(found) for squad_id, found in judge_comments(book).items()}
        return words.feedback_panel(outcome_of(book), kept, written, number)

    return page


@view(ActionKey.FEEDBACK_SQUAD, "coach")
async def read(
    db: Snapshot, tryout: Tryout, request: Request, squad_id: int | None = None, *, picked: int | None = None
) -> Work[Answer]:
    """One squad's feedback as it would be sent, from the list or back from the comments."""
    book, feedbacks = await announced_book(db, tryout), await squad_feedback.feedbacks(db, tryout.id)
    wanted = given(picked, squad_id)

    def show() -> Answer:
        result = outcome_of(book)
        squad = ranked(result, wanted)
        kept = feedbacks.get(squad.id)
        shown = words.read(squad, text_of(result, squad, kept), kept, len(comments_of(result.book, squad.id)))
        return Say(message=shown) if squad_id is None else Replace(message=shown)

    return show


@view(ActionKey.FEEDBACK_EDIT, "coach")
async def edit(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Work[Answer]:
    """Open the form with the text as it stands."""
    book, feedbacks = await announced_book(db, tryout), await squad_feedback.feedbacks(db, tryout.id)

    def show() -> Answer:
        result = outcome_of(book)
        squad = ranked(result, squad_id)
        return Open(form=stamped(words.feedback_form(squad, text_of(result, squad, feedbacks.get(squad.id)))))

    return show


@act(ActionKey.FEEDBACK_EDITED, "coach")
async def feedback_keep(db: Transaction, tryout: Tryout, request: Request, squad_id: int, stamp: str = "") -> Answer:
    """Keep what the coach wrote, if nobody else has changed the text meanwhile; nothing is sent yet."""
    result = await result_of(db, tryout)
    squad = ranked(result, squad_id)
    before = (await squad_feedback.feedbacks(db, tryout.id)).get(squad.id)
    now = words.feedback_form(squad, text_of(result, squad, before))
    noted = None if before is None else Noted(("feedback.edit",), {"squad": squad.id})
    opens = (ActionKey.FEEDBACK_EDIT, squad.id)
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    text = read_text(visible(request.fields.get("text", "")))
    await squad_feedback.keep_feedback(db, squad.id, text, request.at)
    await audit(db, tryout, request, "feedback.edit", squad=squad.id)
    kept = await squad_feedback.feedbacks(db, tryout.id)
    written = len(comments_of(result.book, squad.id))
    return Replace(message=words.read(squad, kept[squad.id].text, kept[squad.id], written))


@act(ActionKey.FEEDBACK_SEND, "coach")
async def send(db: Transaction, tryout: Tryout, request: Request, squad_id: int, stamp: str = "") -> Answer:
    """Send one squad its feedback, if it is still the text that was shown."""
    result = await result_of(db, tryout)
    squad = ranked(result, squad_id)
    kept = (await squad_feedback.feedbacks(db, tryout.id)).get(squad.id)
    text = text_of(result, squad, kept)
    if stamp != words.stamp_of(text) and not is_sent(kept):
        return Replace(message=words.read(squad, text, kept, len(comments_of(result.book, squad.id)), changed=True))
    await _send(db, tryout, request, result, squad)
    return Replace(message=words.sent(1))


@view(ActionKey.FEEDBACK_ALL, "coach")
async def read_all(db: Snapshot, tryout: Tryout, request: Request, number: int) -> Work[Answer]:
    """Show every text that is not sent yet, before all are sent."""
    book, feedbacks = await announced_book(db, tryout), await squad_feedback.feedbacks(db, tryout.id)
    panel = await _panel(db, tryout, 0)

    def show() -> Answer:
        texts = _texts(feedbacks, outcome_of(book))
        return Replace(message=words.read_all(list(texts.values()), number, _stamp(texts)) if texts else panel())

    return show


@act(ActionKey.FEEDBACK_SENT_ALL, "coach")
async def send_all(db: Transaction, tryout: Tryout, request: Request, stamp: str) -> Answer:
    """Send every squad that has none yet its feedback, if the texts are still those that were shown."""
    result = await result_of(db, tryout)
    texts = _texts(await squad_feedback.feedbacks(db, tryout.id), result)
    if texts and stamp != _stamp(texts):
        return Replace(message=words.read_all(list(texts.values()), 0, _stamp(texts), changed=True))
    for squad_id in texts:
        await _send(db, tryout, request, result, result.squads[squad_id])
    return Replace(message=words.sent(len(texts)))


def _stamp(texts: Mapping[int, str]) -> str:
    """What stands for these texts in a key."""
    return shown_stamp(sorted(texts.items()))


async def _send(db: Transaction, tryout: Tryout, request: Request, result: ResultView, squad: Squad) -> None:
    kept = (await squad_feedback.feedbacks(db, tryout.id)).get(squad.id)
    check_not_sent(kept, squad.name)
    text = text_of(result, squad, kept)
    await squad_feedback.feedback_sent(db, squad.id, text, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", words.letter(text), request.at)
    await audit(db, tryout, request, "feedback.send", squad=squad.id)


def _texts(kept: Mapping[int, Feedback], result: ResultView) -> dict[int, str]:
    """What is not sent yet, by squad id, in the order of the squads' numbers."""
    left = not_sent_yet(result.standings.rows, kept)
    return {squad_id: text_of(result, result.squads[squad_id], kept.get(squad_id)) for squad_id in left}


async def result_of(db: Snapshot, tryout: Tryout) -> ResultView:
    """For a transaction: the result is announced, so that its standings have been worked out for what was shown."""
    return outcome_of(await announced_book(db, tryout))


async def announced_book(db: Snapshot, tryout: Tryout) -> ScoreBook:
    """The book of a result that is announced; Refusal `not_announced`."""
    check_announced(tryout.announced_at)
    return await score_book(db, tryout)


def ranked(result: ResultView, squad_id: int) -> Squad:
    """A squad of the standings; Refusal `squad_withdrawn`."""
    if all(row.squad_id != squad_id for row in result.standings.rows):
        raise Refusal(Reason.SQUAD_WITHDRAWN)
    return result.squads[squad_id]


def text_of(result: ResultView, squad: Squad, kept: Feedback | None) -> str:
    """The coach's text, or the draft."""
    if kept is not None:
        return kept.text
    row = result.standings.row(squad.id)
    return drafted(result, row, draft(result.plan, row))


async def feedback_outdated(db: Transaction, tryout: Tryout, drafts: Mapping[int, str]) -> int:
    """After a corrected result, what was sent for the earlier one counts as not sent where it has to change.

    Returns how many squads have feedback to be sent again; `drafts` are those of the corrected result, by squad id.
    """
    found = 0
    for one in (await squad_feedback.feedbacks(db, tryout.id)).values():
        becomes = what_becomes_of(one, drafts.get(one.squad_id))
        if becomes == "drafted anew":
            await squad_feedback.forget_feedback(db, one.squad_id)
        elif becomes == "read again":
            await squad_feedback.feedback_not_sent(db, one.squad_id)
        found += becomes != "stays"
    return found
