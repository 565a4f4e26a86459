"""How firm the places are, in words: the sentences that a coach reads before an announcement."""

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction

from bot.rules.analysis.placing_bootstrap import JudgeBootstrap
from bot.rules.analysis.robustness import Firmness, Trial
from bot.rules.analysis.weight_changes import WeightChange
from bot.rules.core.rounding import rounded
from bot.words.core.plain_text import count, escape, listing
from bot.words.scoring.outcome import Outcome

SCALES = {
    "maximum": "percent of the maximum",
    "best": "percent of the best",
    "between": "between worst and best",
    "rank": "ranks",
    "standard": "standard scores",
}
CAUTION = "With few judges that is normal. It asks for a second look at the sheets, not for another result."


def closeness_line(outcome: Outcome, firm: Firmness) -> str:
    """Whether first and second are closer than judges differ; empty where there is no next squad."""
    near = firm.closeness
    if near is None or not outcome.standings.placed:
        return "There is no next squad to compare with." if outcome.standings.placed else ""
    ahead, behind = outcome.names((near.ahead, near.behind))
    if near.gap == 0:
        return f"{ahead} and {behind} have the same total; the tie-break decides."
    gap = rounded(near.gap, 1) if near.gap >= Fraction(1, 10) else "less than 0.1"
    if near.error is None:
        return f"{ahead} is {gap} points ahead of {behind}."
    scatter = f"{near.error:.1f}"
    if near.close:
        return (
            f"**Close:** {ahead} and {behind} are closer than judges differ. "
            f"The gap is {gap} points, and the judges' differences alone move it by about {scatter}."
        )
    return f"{ahead} is {gap} points ahead of {behind}; the judges' differences move that by about {scatter}."


def trial_line(outcome: Outcome, firm: Firmness, what: str) -> str:
    """What leaving out each judge (`judge`), each criterion (`criterion`) or trying each scale (`scale`) does."""
    trials = [trial for trial in firm.trials if trial.what == what]
    if not trials:
        return {
            "judge": "No judge's marks count here, so there is none to leave out.",
            "criterion": "",
            "scale": "",
        }[what]
    changed: dict[str, list[str]] = defaultdict(list)
    for trial in trials:
        if trial.changed:
            changed[_holders(outcome, trial)].append(trial_name(outcome, trial))
    unknown = [trial_name(outcome, trial) for trial in trials if trial.changed is None]
    with_or_without = "With" if what == "scale" else "Without"
    sentences = [f"{with_or_without} {_or(names)}, {holders}." for holders, names in changed.items()]
    same = len(trials) - len(unknown) - sum(map(len, changed.values()))
    if same and not changed:
        sentences.append(f"{_each(what, same, bool(unknown))} the place stays where it is.")
    elif same:
        sentences.append(f"{with_or_without} {_other(what, same)}, nothing changes.")
    if unknown:
        sentences.append(f"{with_or_without} {_or(unknown)} it cannot be told: some squads would have no value left.")
    return " ".join(sentences)


def _each(what: str, same: int, more: bool) -> str:
    other = "other " if more else ""
    return {
        "judge": f"Without any one of the {other}{count(same, 'judge')}",
        "criterion": f"Without any one of the {other}{count(same, 'criterion', 'criteria')}",
        "scale": f"On any of the other {count(same, 'scale')}",
    }[what]


def _other(what: str, same: int) -> str:
    word = {"judge": "judge", "criterion": "criterion", "scale": "scale"}[what]
    return f"the other {word}" if same == 1 else f"any other {word}"


def _or(names: Sequence[str]) -> str:
    return listing(names).replace(" and ", " or ")


def trial_name(outcome: Outcome, trial: Trial) -> str:
    """What a trial leaves out or tries, such as `judge 3`."""
    if trial.what == "judge":
        return f"judge {trial.name}"
    if trial.what == "criterion":
        return f"the criterion {escape(outcome.criterion(*trial.name.split('.')))}"
    return SCALES[trial.name]


def _holders(outcome: Outcome, trial: Trial) -> str:
    parts = []
    if trial.placed:
        holds = "would hold the place" if len(trial.placed) == 1 else "would hold the places"
        parts.append(f"{listing(outcome.names(sorted(trial.placed)))} {holds}")
    if trial.tied:
        parts.append(f"{listing(outcome.names(sorted(trial.tied)))} would tie for the last place")
    return " and ".join(parts) or "nobody would hold a place"


def weights_line(outcome: Outcome, firm: Firmness) -> str:
    """How far the weights could move before the place changes hands."""
    change = firm.weights
    place = "place" if outcome.standings.places == 1 else "places"
    if change is None:
        return f"No other weights of the events would move the {place}." if outcome.standings.placed else ""
    loses, gains = outcome.names((change.loses, change.gains))
    if outcome.standings.straddle is not None:
        parted = "Other weights would" if change.passes else "No other weights would"
        return f"The last place is tied with these weights. {parted} part {loses} and {gains}."
    if change.shift == 0:
        ahead = "other weights would" if change.passes else "no other weights would"
        return f"{loses} and {gains} have the same total with these weights; {ahead} put {gains} ahead."
    points = rounded(change.shift * 100, 1) if change.shift >= Fraction(1, 1000) else "less than 0.1"
    moved = f"**Weights:** {points} of 100 points of weight would have to move before {gains}"
    if change.passes:
        return f"{moved} reaches {loses} ({moved_weights(outcome, change)})."
    return f"{moved} ties with {loses} ({moved_weights(outcome, change)}). No other weights would put {gains} ahead."


def then_whom(change: WeightChange, gains: str) -> str:
    """What comes after the smallest change of weights: the squad of this name, or only a tie with it."""
    return f"then {gains}" if change.passes else f"then a tie with {gains}"


def moved_weights(outcome: Outcome, change: WeightChange) -> str:
    """Which weights change, from and to, in points of 100."""
    parts = []
    for key, share in outcome.standings.weights.items():
        now, then = rounded(share * 100, 1), rounded(change.weights[key] * 100, 1)
        if share != change.weights[key]:
            parts.append(f"{escape(outcome.event(key).name)} {now} to {then}")
    return ", ".join(parts)


def hold_line(outcome: Outcome, firm: Firmness) -> str:
    """The part of all possible weights that keeps the place."""
    if firm.hold is None:
        return ""
    part = firm.hold.share * 100
    share = "every single one" if firm.hold.exact == 1 else _percent(part)
    who = listing(outcome.names(sorted(outcome.standings.placed)))
    verb = "holds the place" if len(outcome.standings.placed) == 1 else "hold the places"
    return f"Of all possible weights of the events, {who} {verb} under {share}."


def _percent(part: float) -> str:
    if part < 1:
        return "less than 1 %"
    return f"about {part:.0f} %" if part < 99.5 else "more than 99 %"


def effective_line(outcome: Outcome, firm: Firmness) -> str:
    """What the weights really do: each event's share in the differences between the totals."""
    if firm.effective is None or len(firm.effective) < 2:
        return ""
    parts = []
    for key, share in firm.effective.items():
        nominal = rounded(outcome.standings.weights[key] * 100, 0)
        parts.append(f"{escape(outcome.event(key).name)} {rounded(share * 100, 0)} % (weight {nominal})")
    return f"**What really decides:** the differences between the totals come from {listing(parts)}."


def bootstrap_lines(outcome: Outcome, drawn: JudgeBootstrap | None) -> str:
    """How often each squad would hold a place with another draw of the same judges."""
    if drawn is None:
        return "With fewer than two judges there is no other draw of them to try."
    shares = sorted(drawn.share.items(), key=lambda entry: (-entry[1], outcome.squads[entry[0]].number))
    named = [(squad, share) for squad, share in shares if share >= Fraction(1, 200)][:5]
    parts = [f"{outcome.name(squad)} {rounded(share * 100, 0)} %" for squad, share in named]
    text = (
        "**If the same judges were drawn by lot again** (some twice, some not at all), "
        f"the place would go to: {', '.join(parts)}."
    )
    if drawn.usable < 1:
        text += f" {rounded((1 - drawn.usable) * 100, 0)} % of the draws leave squads without a judge and do not count."
    return text


def paragraph(outcome: Outcome, firm: Firmness) -> str:
    """The one paragraph in words."""
    if firm.closeness is None:
        return closeness_line(outcome, firm)
    judges = trial_line(outcome, firm, "judge")
    if any(trial.changed for trial in firm.trials if trial.what == "judge"):
        judges = f"{judges} {CAUTION}"
    lines = [closeness_line(outcome, firm), judges, trial_line(outcome, firm, "criterion")]
    lines += [trial_line(outcome, firm, "scale"), weights_line(outcome, firm)]
    return " ".join(line for line in lines if line)
