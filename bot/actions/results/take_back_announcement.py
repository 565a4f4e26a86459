"""An announcement is taken back, with a reason that everyone reads; then something can be corrected."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.results.finality import doubt_of
from bot.rules.results.place_offers import HOLDS_A_PLACE
from bot.rules.results.take_back_announcement import check_can_go_back, read_reason
from bot.words.core.action_keys import ActionKey
from bot.words.results import take_back_announcement as words
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, mixed_team, outbox, place_offers, scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.RESULTS_ASK_BACK, "coach")
async def ask_back(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form with which a coach takes the announcement back, when a protest was right."""
    await _check_can_go_back(db, tryout, request.at)
    return Open(form=words.back_form(await place_offers.any_in(db, tryout.id, HOLDS_A_PLACE)))


@act(ActionKey.RESULTS_TAKEN_BACK, "coach")
async def take_back(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Take the announcement back, with a reason that everyone reads; then something can be corrected."""
    await _check_can_go_back(db, tryout, request.at)
    reason = read_reason(request.fields.get("reason", ""))
    await tryouts.take_announcement_back(db, tryout.id)
    await scheduled_jobs.cancel_jobs(db, tryout.id, "protests")
    await outbox.enqueue(db, tryout.id, "news", words.taken_back_news(reason), request.at)
    await _take_offers_back(db, tryout, request.at)
    await live_messages.mark_stale(db, tryout.id, "*")
    await audit(db, tryout, request, "results.take-back")
    return Say(message=words.taken_back())


async def _take_offers_back(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Nobody is offered a place any more, and the squads concerned read it."""
    rooms = await place_offers.take_back(db, tryout.id, HOLDS_A_PLACE)
    rooms += await mixed_team.take_all_back(db, tryout.id, HOLDS_A_PLACE)
    for kind in ("offer", "offer-reminder", "team", "team-reminder"):
        await scheduled_jobs.cancel_jobs(db, tryout.id, kind)
    for squad_id in sorted(set(rooms)):
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.place_not_offered_now(), now)


async def _check_can_go_back(db: Snapshot, tryout: Tryout, now: datetime) -> None:
    """It may be taken back now, or a Refusal, as `check_can_go_back` says."""
    why = await doubt_of(db, tryout, now)
    check_can_go_back(tryout.announced_at, why, await place_offers.any_in(db, tryout.id, HOLDS_A_PLACE))
