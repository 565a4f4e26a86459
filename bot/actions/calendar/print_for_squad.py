"""The brief and all notices of a squad on paper, for members who have no account here."""

from functools import partial
from zoneinfo import ZoneInfo

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.live_messages import compose
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.squads_admin import squad_of
from bot.words.calendar import print_for_squad as words
from bot.words.core.class_action_keys import ClassKey
from bot.words.privacy.erased_labels import ERASED
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, squads
from storage.tables.sql_session import Snapshot


@slow_view(ClassKey.PRINT_SQUAD, "coach")
async def print_for_squad(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Work[Answer]:
    """Print what a squad would read: the brief once it is out, the news, and what stands in its room."""
    squad = await squad_of(db, tryout, squad_id)
    members = await squads.members(db, squad.id)
    sent = await outbox.texts_to(db, tryout.id, ("news", f"squad/{squad.id}"))
    told = [(at, text) for at, text in sent if text != ERASED.name]
    shown = [await compose(db, tryout, f"{kind}/{squad.id}") for kind in words.LIVE]
    now = [one.text for one in shown if one is not None]
    brief = words.brief(tryout.plan, schedule_of(tryout), tryout.brief_at)
    return partial(words.printed, tryout.plan, squad, members, brief, now, told, ZoneInfo(tryout.plan.zone), request.at)
