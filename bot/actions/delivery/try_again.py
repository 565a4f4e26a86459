"""The coach has mended what stood in the way: what did not get through is tried again."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.words.core.action_keys import ActionKey
from bot.words.delivery import undelivered as words
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import delivery_incidents, outbox, squad_room_members
from storage.tables.sql_session import Transaction


@act(ActionKey.POST_AGAIN, role="coach")
async def again(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Put back into the outbox what failed and is not too late, and try again to let people into their rooms."""
    count = await try_everything_again(db, tryout, request.at)
    await audit(db, tryout, request, "post.again", messages=count)
    return Say(message=words.trying_again(count))


async def try_everything_again(db: Transaction, tryout: Tryout, now: datetime) -> int:
    """Queue again what failed and is not too late, wait no longer with the rest; returns how many had failed."""
    count = await outbox.take_back(db, tryout.id, now)
    await outbox.hurry(db, tryout.id, now)
    await squad_room_members.try_seats_again(db, tryout.id)
    await delivery_incidents.end_all(db, tryout.id)
    return count
