"""Whose direct messages are read at all: those of judges."""

from storage.store import Store
from storage.tables import tryout_of_judge


async def is_judge(store: Store, who: int) -> bool:
    """Whether an account judges in a try-out that runs; what others write is neither read nor answered."""
    return bool(await store.look(lambda db: tryout_of_judge.tryouts_judged_by(db, who)))
