"""Set-up on a class server: the channels, and what the bot may do in them."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.delivery.try_again import try_everything_again
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.server_channels import check_office, missing_in
from bot.words.core.action_keys import ActionKey
from bot.words.office import server_channels as words
from storage.records.message import Answer, Replace, Say
from storage.records.request import Request, Room
from storage.records.tryout import RoomKind, Tryout
from storage.tables import tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SETUP_PANEL, "coach")
async def setup_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show which channels are chosen."""
    return Replace(message=words.setup_panel(tryout))


@act(ActionKey.SETUP_ROOM, "coach")
async def choose(db: Transaction, tryout: Tryout, request: Request, kind: RoomKind, *, picked: int) -> Answer:
    """Take a channel for a purpose, if the bot may do there what it must."""
    room = _picked(request, picked)
    check_office(kind, room, tryout.rooms)
    missing = missing_in(kind, room)
    if missing:
        return Replace(message=words.setup_panel(tryout, words.lacking(kind, room.id, missing)))
    await tryouts.set_room(db, tryout.id, kind, room.id)
    await try_everything_again(db, tryout, request.at)
    await audit(db, tryout, request, "setup.room", purpose=kind, room=room.id)
    return Replace(message=words.setup_panel(await tryouts.get(db, tryout.id), words.chosen(kind, room.id)))


def _picked(request: Request, room_id: int) -> Room:
    """The channel that was picked; of one that we were told nothing about, nothing is taken for granted."""
    for room in request.rooms:
        if room.id == room_id:
            return room
    raise Refusal(Reason.OUT_OF_DATE)


@view(ActionKey.SETUP_INVITE, "coach", unbegun=True)
async def invite(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Show the link with which the bot is added to a server."""
    return Say(message=words.invite(request.application))
