"""What the weights of the events do to the places, in words."""

from fractions import Fraction

from bot.rules.analysis.robustness import Firmness
from bot.rules.analysis.weight_changes import LEAST_MOVED, WeightChange
from bot.rules.core.rounding import rounded
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import percent
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView

NOT_PLAIN = (
    "Where places go by sections, or from a minimum on, it is not worked out how other weights would move them, "
    "and how far the next squad is behind."
)


def weights_line(result: ResultView, firm: Firmness) -> str:
    """How far the weights could move before the place changes hands; empty where a single event has all the weight."""
    change = firm.weights
    if len(result.standings.weights) < 2:
        return ""
    if not result.standings.plain:
        return NOT_PLAIN
    if change is None:
        place = "place" if result.standings.places == 1 else "places"
        return f"No other weights of the events would move the {place}." if result.standings.placed else ""
    loses, gains = result.names((change.loses, change.gains))
    if result.standings.straddle is not None:
        parted = "Other weights would" if change.passes else "No other weights would"
        return f"The last place is tied with these weights. {parted} part {loses} and {gains}."
    if change.shift == 0:
        ahead = "other weights would" if change.passes else "no other weights would"
        return f"{loses} and {gains} have the same total with these weights; {ahead} put {gains} ahead."
    moved = f"**Weights:** {weight_points(change.shift)} of 100 points of weight would have to move before {gains}"
    if change.passes:
        return f"{moved} reaches {loses} ({moved_weights(result, change)})."
    return f"{moved} ties with {loses} ({moved_weights(result, change)}). No other weights would put {gains} ahead."


def weight_points(shift: Fraction) -> str:
    """A share of the whole weight in points of 100, never shown as none."""
    return rounded(shift * 100, 1) if shift * 100 >= LEAST_MOVED else f"less than {float(LEAST_MOVED)}"


def then_whom(change: WeightChange, gains: str) -> str:
    """What comes after the smallest change of weights: the squad of this name, or only a tie with it."""
    return f"then {gains}" if change.passes else f"then a tie with {gains}"


def moved_weights(result: ResultView, change: WeightChange) -> str:
    """Which weights change, from and to, in points of 100."""
    parts = []
    for key, share in result.standings.weights.items():
        now, then = rounded(share * 100, 1), rounded(change.weights[key] * 100, 1)
        if share != change.weights[key]:
            parts.append(f"{escape(result.event(key).name)} {now} to {then}")
    return ", ".join(parts)


def hold_line(result: ResultView, firm: Firmness) -> str:
    """The part of all possible weights that keeps the place; empty where there is nothing to weigh."""
    if firm.hold is None or len(result.standings.weights) < 2:
        return ""
    share = held_share(firm)
    who = listing(result.names(sorted(result.standings.placed)))
    verb = "holds the place" if len(result.standings.placed) == 1 else "hold the places"
    return f"Of all possible weights of the events, {who} {verb} under {share}."


def held_share(firm: Firmness) -> str:
    """The part of all possible weights that keeps the place, such as `about 37 %`."""
    assert firm.hold is not None
    if firm.hold.exact == 1:
        return "every single one" if firm.weights is None else "every single one, but for ties"
    if firm.hold.exact is not None:
        return percent(firm.hold.exact)
    return percent(Fraction(firm.hold.share), drawn=True)
