"""What the command line asks of a database without the chat platform."""

from pathlib import Path

from bot.clerk.book import score_book
from bot.clerk.results import outcome_of
from bot.words import standings_report as words
from storage.store import Store
from storage.tables import tryouts


async def standings_report(database: Path) -> str:
    """The standings of the newest try-out in a database, as plain text.

    Raises:
        StorageFault: the file cannot be read.
        Refusal: what it holds makes no sense.
    """
    async with Store.open(database, readers=1) as store, store.read() as snapshot:
        tryout = await tryouts.newest(snapshot)
        if tryout is None:
            return words.nothing()
        return words.standings_report(outcome_of(await score_book(snapshot, tryout)))
