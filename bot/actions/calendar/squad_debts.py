"""Squads that owe something, each with what it is."""

from dataclasses import replace
from datetime import datetime

from bot.actions.practice.practice_table import table_of
from bot.actions.squads.members import by_squad
from bot.rules.calendar.squad_debts import Debt, owed, squad_facts, who_owes, work_is_owed
from bot.rules.hand_in.member_parts import hand_in_events
from bot.rules.practice.share_and_leftover_turns import share_left
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables import decisions, member_parts
from storage.tables.sql_session import Snapshot


async def debts(db: Snapshot, tryout: Tryout, now: datetime) -> list[tuple[Squad, tuple[Debt, ...]]]:
    """Every squad with what it still owes, by number; squads that owe nothing have an empty list."""
    allowed = await decisions.allowed_small(db, tryout.id)
    works = work_is_owed(tryout.state)
    pieces = hand_in_events(tryout.plan) if works else ()
    there = await member_parts.who_handed_in(db, tryout.id) if pieces else {}
    table = await table_of(db, tryout) if works else None
    found = []
    for squad, members in await by_squad(db, tryout):
        if squad is not None:
            facts = squad_facts(tryout.plan, members, squad.id in allowed, tryout.brief_at is not None)
            parts = {piece.name: there.get((squad.id, piece.key), frozenset()) for piece in pieces}
            handed_in = {name: len(who) for name, who in parts.items()}
            turns = share_left(table, squad.id, now) if table is not None else None
            owing = owed(replace(facts, hand_ins=handed_in, slots_left=turns))
            found.append((squad, tuple(replace(debt, who=who_owes(debt, members, parts)) for debt in owing)))
    return found
