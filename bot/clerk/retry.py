"""The coach has mended what stood in the way: what did not get through is tried again."""

from bot.clerk.frame import act, record
from bot.words import delivery as words
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import letters, rooms
from storage.tables.session import Transaction


@act("post.again", role="coach")
async def again(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Put back into the outbox what failed and is not too late, and try again to let people into their rooms."""
    count = await letters.take_back(db, tryout.id, request.at)
    await rooms.try_seats_again(db, tryout.id)
    await letters.end_all_trouble(db, tryout.id)
    await record(db, tryout, request, "post.again", letters=count)
    return Say(message=words.trying_again(count))
