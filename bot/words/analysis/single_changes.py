"""What leaving out one judge or one criterion, or trying another scale, would do to the places, in words."""

from collections import defaultdict
from collections.abc import Sequence

from bot.rules.analysis.robustness import Firmness, Trial
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.scales_and_panels import SCALES

MOST_NAMED = 3
"""Squads that are named in a half-sentence; more are counted."""
FEW_JUDGES = "With few judges that is normal. It asks for a second look at the sheets, not for another result."
"""Said where leaving out one judge would change who holds the place."""
REFUSED = {
    "scale_maximum": "the plan gives a measure no maximum",
    "scale_ends": "the plan gives a measure one end of the scale only",
}
"""Why a scale could not be tried."""


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
    if what == "judge" and changed:
        sentences.append(FEW_JUDGES)
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
    squads = listing(names) if len(names) <= MOST_NAMED else count(len(names), "squad")
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
