"""The pinned message about the rules, shown anew whenever something it says has changed."""

from bot.actions.core.live_messages import live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.rules.questions.squad_asks import asking_is_open
from bot.words.calendar import pinned_rules as words
from bot.words.plan.public_plan import public_plan
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables import surprises
from storage.tables.sql_session import Snapshot


@live_message("brief")
async def pinned_rules(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The pinned message about the rules; there is none before the brief is out."""
    if tryout.brief_at is None:
        return None
    started = await surprises.started(db, tryout.id)
    public = public_plan(tryout.plan, started)
    return words.pinned_rules(tryout.plan, schedule_of(tryout), public, asking_is_open(tryout.state))
