"""Which squad still owes what."""

from bot.clerk.members import by_squad
from bot.rules.reminders import Debt, owed, squad_facts
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables import decisions
from storage.tables.session import Snapshot


async def debts(db: Snapshot, tryout: Tryout) -> list[tuple[Squad, tuple[Debt, ...]]]:
    """Every squad with what it still owes, by number; squads that owe nothing have an empty list."""
    allowed = await decisions.allowed_small(db, tryout.id)
    return [
        (squad, owed(squad_facts(tryout.plan, members, squad.id in allowed, tryout.brief_at is not None)))
        for squad, members in await by_squad(db, tryout)
        if squad is not None
    ]
