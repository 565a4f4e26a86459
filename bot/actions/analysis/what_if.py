"""What if? The coach tries other weights, scales or panels; nothing official is touched."""

from decimal import Decimal
from functools import partial

from bot.actions.core.dispatch import Work, slow_view, view
from bot.actions.results.preview import check_complete, whole_book
from bot.actions.scoring.score_book import outcome_of
from bot.rules.analysis.what_if import PANELS, with_panel, with_scale, with_weights, without_judge
from bot.rules.core.parse_numbers import read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.scales import SCALES
from bot.words.analysis import what_if as words
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Open, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@view(ActionKey.RESULTS_WHAT_IF, "coach")
async def ask_what_if(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form with the weights as they are."""
    book = await whole_book(db, tryout, request)
    result = outcome_of(book)
    check_complete(result)
    return Open(form=words.what_if_form(tryout.plan, result))


@slow_view(ActionKey.RESULTS_TRIED, "coach")
async def try_it(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Show what would be beside what is."""
    book = await whole_book(db, tryout, request)
    weights = read_weights(tryout.plan, request.fields.get("weights", ""))
    on_offer = {"scale": SCALES, "panel": PANELS, "judge": [str(judge.id) for judge in book.judges]}
    chosen = {name: request.fields.get(name, words.NONE) for name in on_offer}
    if number := request.fields.get("judge-number", "").strip():
        found = [str(judge.id) for judge in book.judges if str(judge.number) == number and judge.weight > 0]
        if not found:
            raise Refusal(Reason.NO_JUDGE_NUMBER, number=number)
        chosen["judge"] = found[0]
    if any(value not in (words.NONE, *on_offer[name]) for name, value in chosen.items()):
        raise Refusal(Reason.OUT_OF_DATE)
    return partial(_tried, book, words.Wish(weights, **chosen))


def _tried(book: ScoreBook, wish: words.Wish) -> Answer:
    other = with_weights(book, wish.weights)
    for scale in SCALES:
        if scale == wish.scale:
            other = with_scale(other, scale)
    for rule in PANELS:
        if rule == wish.panel:
            other = with_panel(other, rule)
    if wish.judge != words.NONE:
        other = without_judge(other, int(wish.judge))
    result = outcome_of(book)
    check_complete(result)
    return Say(message=words.tried(result, outcome_of(other), wish))


def read_weights(plan: Plan, text: str) -> dict[str, Decimal]:
    """The weights from lines such as `Sock run: 40`; events without a line keep theirs.

    Raises Refusal: `weight_line` (line), `no_event` (key), or what `read_points` raises.
    """
    weights = {event.key: event.weight for event in plan.events}
    names = {event.name.casefold(): event.key for event in plan.events} | {
        event.key: event.key for event in plan.events
    }
    for line in filter(None, map(str.strip, text.splitlines())):
        name, colon, weight = line.rpartition(":")
        if not colon:
            raise Refusal(Reason.WEIGHT_LINE, line=line[:80])
        found = names.get(name.strip().casefold())
        if found is None:
            raise Refusal(Reason.NO_EVENT, key=name.strip()[:80])
        weights[found] = read_points(weight, f"the weight of {name.strip()[:80]}")
    return weights
