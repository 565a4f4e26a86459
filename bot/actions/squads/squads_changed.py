"""When squads have changed: the roster board, the squad's room and whoever follows squads are told."""

from collections.abc import Collection
from functools import partial

from bot.actions.core.followers import Followers
from bot.words.squads import roster_board as roster_words
from storage.records.message import Message
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, squad_room_members, squads, tryouts
from storage.tables.sql_session import Transaction

when_squads_change = Followers[Collection[int]]("squads")
"""Squads or their members have changed. Whoever follows shows anew only what concerns the squads given, so that one
press costs the same in a class of any size."""


async def board_changed(db: Transaction, tryout: Tryout, *squad_ids: int) -> None:
    """The roster board must show what has changed, and all else that shows these squads."""
    db.before_commit(f"roster of {tryout.id}", partial(_show_roster, tryout_id=tryout.id))
    if squad_ids:
        await when_squads_change.tell(db, tryout, squad_ids)


async def _show_roster(db: Transaction, tryout_id: int) -> None:
    """Have the roster board shown anew, in at least as many parts as its text needs.

    It is not composed here, at each of a hundred presses; a part without text shows nothing.
    """
    tryout = await tryouts.get(db, tryout_id)
    *size, placed = await squads.roster_size(db, tryout.id)
    parts = roster_words.most_boards(tryout.plan, *size)
    for number in range(placed + 1, parts + 1):
        await live_messages.place(db, tryout.id, f"roster/{number}", "signup")
    await live_messages.mark_stale(db, tryout.id, "roster/*")


async def every_squad_changed(db: Transaction, tryout: Tryout) -> None:
    """The same where any squad may have changed."""
    squad_ids = [squad.id for squad in await squads.squads(db, tryout.id)]
    await squad_room_members.adjust_seats(db, squad_ids)
    await board_changed(db, tryout, *squad_ids)


async def tell_squad(db: Transaction, tryout: Tryout, squad: Squad, message: Message, request: Request) -> None:
    """Say something in a squad's private room."""
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, request.at)
