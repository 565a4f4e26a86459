"""What `tenbell standings` prints on the command line: the standings of the newest try-out in a database."""

from pathlib import Path

from bot.actions.scoring.score_book import outcome_of, score_book
from bot.rules.results.hidden_until_close import sealed
from bot.words.scoring import command_line_standings as words
from storage.store import Store
from storage.tables import tryouts


async def standings_report(database: Path) -> str:
    """The standings of the newest try-out in a database, as plain text; before judging closes only who owes what.

    Raises:
        StorageFault: the file cannot be read.
        Refusal: what it holds makes no sense.
    """
    async with Store.open(database, readers=1) as store, store.read() as snapshot:
        tryout = await tryouts.newest(snapshot)
        if tryout is None:
            return words.nothing()
        result = outcome_of(await score_book(snapshot, tryout))
        return words.sealed_report(result) if sealed(tryout.state) else words.standings_report(result)
