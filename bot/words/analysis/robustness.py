"""How firm the places are, in words: the sentences that a coach reads before an announcement."""

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from math import ceil, sqrt

from bot.rules.analysis.estimates import LEVEL, Z
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap, most_often
from bot.rules.analysis.robustness import LEAST, Firmness, Trial
from bot.rules.core.rounding import rounded
from bot.words.analysis.weights_text import weights_line
from bot.words.core.number_text import percent
from bot.words.core.plain_text import count, escape, listing
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import breaker_name

SCALES = {
    "maximum": "percent of the maximum",
    "best": "percent of the best",
    "between": "position between two ends",
    "rank": "ranks",
    "standard": "standard scores",
}
CAUTION = "With few judges that is normal. It asks for a second look at the sheets, not for another result."
REFUSED = {
    "scale_maximum": "the plan gives a measure no maximum",
    "scale_ends": "the plan gives a measure one end of the scale only",
}
"""Why a scale could not be tried."""
NAMED = 3
"""Squads that are named in a half-sentence; more are counted."""


def closeness_line(result: ResultView, firm: Firmness) -> str:
    """Whether the last placed and the next are closer than judges differ; empty while a tie holds the last place."""
    near = firm.closeness
    if result.standings.straddle is not None:
        return ""
    if not result.standings.plain:
        return ""
    if near is None:
        return "There is no next squad to compare with." if result.standings.placed else ""
    ahead, behind = result.names((near.ahead, near.behind))
    if near.gap == 0:
        return f"{ahead} and {behind} have the same total; {_decided(result, near.ahead, near.behind)}."
    gap = f"{rounded(near.gap, 1)} points" if near.gap >= Fraction(1, 10) else "less than 0.1 points"
    if near.reach is None:
        return f"{ahead} is {gap} ahead of {behind}."
    sure = give_or_take(near.reach)
    if near.close:
        return f"**Close:** {ahead} and {behind} are closer than judges differ. The gap is {gap}, {sure}."
    turned = "" if near.clear else " So the judges' chance alone could still turn it."
    return f"{ahead} is {gap} ahead of {behind}, {sure}.{turned}"


def give_or_take(reach: float) -> str:
    """How far the judges' chance moves a gap to either side."""
    points = f"{reach:.1f}" if reach >= LEAST else f"less than {LEAST}"
    return f"give or take {points} for chance in the judges' marks ({LEVEL} % level)"


def _decided(result: ResultView, ahead: int, behind: int) -> str:
    """What parted two squads of the same total."""
    for tie in result.standings.ties:
        if ahead in tie.squads and behind in tie.squads:
            for step in tie.steps:
                if not any({ahead, behind} <= set(group) for group in step.groups):
                    return f"decided by {breaker_name(result, step.by)}"
    raise AssertionError("squads of one total that hold different ranks were parted by something")


def trial_line(result: ResultView, firm: Firmness, what: str) -> str:
    """What leaving out each judge (`judge`), each criterion (`criterion`) or trying each scale (`scale`) does."""
    trials = [trial for trial in firm.trials if trial.what == what]
    if not trials:
        return "No judge's marks count here, so there is none to leave out." if what == "judge" else ""
    changed: dict[str, list[Trial]] = defaultdict(list)
    open_: dict[str, list[Trial]] = defaultdict(list)
    lost: dict[str, list[Trial]] = defaultdict(list)
    same = []
    for trial in trials:
        if trial.changed is None:
            open_[_why_open(result, trial)].append(trial)
            continue
        if trial.lost:
            lost[_without_value(result, trial)].append(trial)
        if trial.changed:
            changed[_holders(result, trial)].append(trial)
        else:
            same.append(trial)
    sentences = [f"{_with(result, alike)}, {holders}." for holders, alike in changed.items()]
    if same:
        sentences.append(_stays(result, what, same, bool(changed), bool(open_)))
    sentences += [f"{_with(result, alike)} it cannot be told: {why}." for why, alike in open_.items()]
    sentences += [f"{_with(result, alike)}, {squads}, and could not be ranked." for squads, alike in lost.items()]
    return " ".join(sentences)


def _stays(result: ResultView, what: str, same: Sequence[Trial], changed: bool, unknown: bool) -> str:
    if result.standings.straddle is not None:
        stays = "the tie for the last place stays"
    elif not result.standings.placed:
        stays = "nobody holds a place either"
    else:
        stays = "the place stays where it is" if result.standings.places == 1 else "the places stay where they are"
    if len(same) == 1:
        return f"{_with(result, same)}, {stays}."
    other = "other " if changed or unknown else ""
    if what == "scale":
        return f"On any of the other {count(len(same), 'scale')} {stays}."
    many = {"judge": "judges", "criterion": "criteria"}[what]
    return f"Without any one of the {other}{len(same)} {many} {stays}."


def _with(result: ResultView, trials: Sequence[Trial]) -> str:
    names = listing([trial_name(result, trial) for trial in trials], "or")
    return f"Scored as {names}" if trials[0].what == "scale" else f"Without {names}"


def _why_open(result: ResultView, trial: Trial) -> str:
    if trial.refused:
        return REFUSED.get(trial.refused, "the plan lacks a number that this needs")
    return _without_value(result, trial)


def _without_value(result: ResultView, trial: Trial) -> str:
    """Which squads could not be ranked then, and why."""
    names = result.names(sorted(trial.lost))
    squads = listing(names) if len(names) <= NAMED else count(len(names), "squad")
    if trial.parted:
        return f"{squads} could not be compared with the others, for want of a chain of common judges"
    return f"{squads} would have no sheet left"


def trial_name(result: ResultView, trial: Trial) -> str:
    """What a trial leaves out or tries, such as `judge 3`."""
    if trial.what == "judge":
        return f"judge {trial.name}"
    if trial.what == "criterion":
        return f"the criterion {escape(result.criterion(*trial.name.split('.')))}"
    return SCALES[trial.name]


def _holders(result: ResultView, trial: Trial) -> str:
    parts = []
    if trial.placed:
        holds = "would hold the place" if result.standings.places == 1 else "would hold a place"
        parts.append(f"{listing(result.names(sorted(trial.placed)))} {holds}")
    if trial.tied:
        parts.append(f"{listing(result.names(sorted(trial.tied)))} would tie for the last place")
    return " and ".join(parts) or "nobody would hold a place"


def bootstrap_lines(result: ResultView, drawn: JudgeBootstrap) -> str:
    """How often each squad would hold a place with another draw of the same judges."""
    if drawn.judges < 2:
        return "With fewer than two judges there is no other draw of them to try."
    if not drawn.usable:
        return "No other draw of the same judges gives every squad a judge, so none can be tried."
    shares = draw_shares(result, drawn)
    named = [f"{result.name(squad)} {percent(share, not drawn.exact)}" for squad, share in shares]
    rest = sum(share > 0 for share in drawn.share.values()) - len(shares)
    if rest:
        named.append(f"{count(rest, 'other squad')} less often")
    one, open_ = result.standings.places == 1, result.standings.places - sum(drawn.share.values(), Fraction(0))
    if one and open_:
        named.append(f"nobody {percent(open_, not drawn.exact)}")
    text = (
        "**If the same judges were drawn by lot again** (some twice, some not at all), "
        f"{'the place' if one else 'a place'} would go to: {', '.join(named) or 'nobody'}."
    )
    if not one and open_:
        text += " In some or all of the draws a place stays open."
    if drawn.share != drawn.sole:
        text += " Where squads tie for the last place, it counts for each in part."
    if drawn.usable < 1:
        why = "they leave a squad without a judge, or squads that cannot be compared"
        text += f" Not counted are {percent(1 - drawn.usable, not drawn.exact)} of the draws: {why}."
    if not drawn.exact:
        off = ceil(100 * Z * sqrt(0.25 / float(drawn.draws * drawn.usable)))
        text += f" These are {drawn.draws} draws, so a share may be off by up to {off} points ({LEVEL} % level)."
    return text


def draw_shares(result: ResultView, drawn: JudgeBootstrap) -> list[tuple[int, Fraction]]:
    """The squads that hold a place most often, with their shares."""
    return most_often(drawn, {squad_id: squad.number for squad_id, squad in result.squads.items()})


def paragraph(result: ResultView, firm: Firmness) -> str:
    """The one paragraph in words."""
    if firm.closeness is None and result.standings.plain:
        return closeness_line(result, firm)
    judges = trial_line(result, firm, "judge")
    if any(trial.changed for trial in firm.trials if trial.what == "judge"):
        judges = f"{judges} {CAUTION}"
    lines = [closeness_line(result, firm), judges, trial_line(result, firm, "criterion")]
    lines += [trial_line(result, firm, "scale"), weights_line(result, firm)]
    return " ".join(line for line in lines if line)
