"""What if? The coach tries other weights, scales or panels; nothing official is touched."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view, view
from bot.actions.results.preview import whole_book
from bot.actions.scoring.score_book import outcome_of
from bot.rules.analysis.what_if import NONE, Wish, as_wished, read_wish
from bot.rules.results.preview import check_complete
from bot.words.analysis import what_if as words
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@view(ActionKey.RESULTS_WHAT_IF, "coach")
async def ask_what_if(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form with the weights as they are."""
    book = await whole_book(db, tryout, request)
    result = outcome_of(book)
    check_complete(result.standings)
    return Open(form=words.what_if_form(tryout.plan, result))


@slow_view(ActionKey.RESULTS_TRIED, "coach")
async def try_it(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Show what would be beside what is."""
    book = await whole_book(db, tryout, request)
    field = request.fields.get
    chosen = {name: field(name, NONE) for name in ("scale", "panel", "judge")}
    wish = read_wish(book, field("weights", ""), chosen, field("judge-number", ""))
    return partial(_tried, book, wish)


def _tried(book: ScoreBook, wish: Wish) -> Answer:
    result = outcome_of(book)
    check_complete(result.standings)
    return Say(message=words.tried(result, outcome_of(as_wished(book, wish)), wish))
