"""A squad takes part no more, by whatever way: what becomes of its turns, its captain and its room."""

from storage.tables import practice, squad_room_members, squads
from storage.tables.sql_session import Transaction


async def take_out(db: Transaction, squad_id: int) -> None:
    """Take a squad out of the try-out: its practice turns are free, nobody leads it, and its room empties.

    Once it is empty, delivery puts the room away (`bot/delivery/room_closer.py`).
    """
    await practice.free_all(db, squad_id)
    await squads.set_withdrawn(db, squad_id)
    await squad_room_members.all_leave_room(db, squad_id)
