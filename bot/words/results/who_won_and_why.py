"""The first lines of a complete result: who wins, by how much, why, how sure, what the judges did, what comes next."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from bot.rules.analysis.agreement import Agreement, is_uncertain
from bot.rules.analysis.judge_profiles import JudgeView
from bot.rules.analysis.judges_evened_out import Evened
from bot.rules.analysis.robustness import LEAST, Firmness, Trial
from bot.rules.core.rounding import rounded
from bot.rules.judging.judged_rubrics import is_judged
from bot.rules.results.finality import Doubt
from bot.rules.results.who_won_and_why import (
    HowSure,
    chance_could,
    how_sure,
    marks_farthest,
    mattered,
    moves_marks,
    pair,
)
from bot.rules.scoring.standings_records import Row, Standings
from bot.rules.scoring.tie_breaks import has_run_offs
from bot.words.analysis.agreement import agreement_word
from bot.words.analysis.robustness import give_or_take
from bot.words.analysis.single_changes import trial_name
from bot.words.analysis.weight_changes import weight_points
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.times import full, school_day_after
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import contest_lines
from bot.words.scoring.tie_breaks import run_off_lines

MOST_NAMED = 3
"""Judges, criteria or scales that are named in a sentence; more are counted."""
SURE: dict[HowSure, str] = {
    "same total": "not very; the two have the same total",
    "within chance": "not very; the two are closer than the judges differ",
    "fairly": "fairly",
    "very": "very",
}
UNCERTAIN = " (uncertain, with so few squads)"


@dataclass(frozen=True)
class Analysis:
    """What stands behind the order, worked out together with it."""

    firm: Firmness
    agreements: Sequence[Agreement]
    views: Sequence[JudgeView]
    evened: Sequence[Evened]
    evened_standings: Standings


def in_front(result: ResultView, found: Analysis, announced: bool, why: Doubt | None = None) -> str:
    """The result in six short paragraphs, for a result in which nothing is missing.

    `why` an announced result is not final; None once it is.
    """
    parts = [who_line(result), why_line(result), sure_line(result, found.firm), judges_line(result, found)]
    parts += [provisional_line(result, announced, why), next_line(result, announced)]
    return "\n".join(part for part in parts if part)


def who_line(result: ResultView) -> str:
    """Who wins, with what, by how much."""
    found = result.standings
    more = contest_lines(result)
    if found.straddle is not None:
        return "\n".join(("**No winner yet.**", *more, run_off_lines(result)))
    names, two = result.names(found.placed), pair(result.standings)
    if not names:
        return "\n".join(("**Winner:** nobody holds a place.", *more))
    totals = listing([result.total(found.row(squad_id)) for squad_id in found.placed])
    if len(names) == 1:
        text = f"**Winner:** {names[0]} with {totals} points"
    else:
        text = f"**Winners** ({count(len(names), 'place')}): {listing(names)} with {totals} points"
    if two is not None:
        lead, behind = _lead(two), result.names([two[1].squad_id])[0]
        ahead = "" if len(names) == 1 else f"{result.names([two[0].squad_id])[0]} is "
        text += f", {ahead}level with {behind}" if lead == 0 else f"; {ahead}{_points(lead)} ahead of {behind}"
        text += "; a tie-break or a run-off decided" if lead == 0 else ""
    return "\n".join((f"{text}.", *more))


def why_line(result: ResultView) -> str:
    """What each event gives the winner against the next squad; all of it together is the lead."""
    two = pair(result.standings)
    if two is None:
        return ""
    parts = []
    for mine, other in zip(two[0].events, two[1].events, strict=True):
        name = escape(result.event(mine.key).name)
        excused = (mine.state == "excused") + (other.state == "excused")
        if excused == 2:
            parts.append(f"both excused from {name}")
            continue
        more = (mine.contribution or Fraction(0)) - (other.contribution or Fraction(0))
        said = f"level in {name}" if more == 0 else f"{_signed(more)} in {name}"
        parts.append(f"{said} (one of the two was excused)" if excused else said)
    return f"**Why them**, against {result.name(two[1].squad_id)}: {'; '.join(parts)} (points of 100)."


def sure_line(result: ResultView, firm: Firmness) -> str:
    """How sure the winner is, and what would change it."""
    if result.standings.straddle is not None:
        return f"**How sure:** open, until the {'run-off' if has_run_offs(result.plan) else 'tie is settled'}."
    near = firm.closeness
    if not result.standings.placed or (near is None and result.standings.plain):
        return ""
    changed = [trial for trial in firm.trials if trial.changed]
    unknown = [trial for trial in firm.trials if trial.changed is None]
    what = "winner" if result.standings.places == 1 else "winners"
    reasons = []
    if changed:
        reasons.append(f"The {what} would change {_ways(result, changed)}.")
    elif unknown and len(unknown) < len(firm.trials):
        tried = count(len(firm.trials) - len(unknown), "way")
        reasons.append(f"In the {tried} that could be tried (see **Numbers**) the {what} would not change.")
    elif firm.trials and not unknown:
        out = "Leaving out any one judge or criterion, or another scale," if is_judged(result.plan) else "Another scale"
        reasons.append(f"{out} does not change the {what}.")
    if unknown:
        ways = "other way" if len(unknown) < len(firm.trials) else "way"
        reasons.append(f"For {count(len(unknown), ways)} it cannot be told.")
    if firm.weights is not None and firm.weights.shift > 0 and firm.weights.passes:
        moved = weight_points(firm.weights.shift)
        reasons.append(f"Moving {moved} of the 100 points of weight between events would change the {what}.")
    elif firm.weights is None and result.standings.plain and len(result.standings.weights) > 1:
        reasons.append(f"No other weights of the events would change the {what}.")
    if near is None:
        reasons.append("How far the next squads are behind is not worked out here.")
    elif near.reach is None and is_judged(result.plan):
        reasons.append("How far chance in the judges' marks moves the gap cannot be told.")
    elif near.gap > 0 and near.reach is not None and near.reach >= LEAST:
        reasons.append(f"The gap is {_points(near.gap)}, {give_or_take(near.reach)}.")
    return f"**How sure:** {SURE[how_sure(result.plan, firm)]}. {' '.join(reasons)}"


def _ways(result: ResultView, trials: Sequence[Trial]) -> str:
    if len(trials) > MOST_NAMED:
        return f"in {len(trials)} of the ways tried (see **Numbers**)"
    out = [trial_name(result, trial) for trial in trials if trial.what != "scale"]
    scaled = [trial_name(result, trial) for trial in trials if trial.what == "scale"]
    parts = [f"without {listing(out, 'or')}"] if out else []
    parts += [f"scored as {listing(scaled, 'or')}"] if scaled else []
    return listing(parts, "or")


def judges_line(result: ResultView, found: Analysis) -> str:
    """Whether the judges agree, who marks hardest, and whether it mattered."""
    seen = [one for one in found.agreements if one.judges]
    if not seen:
        return ""
    words = {
        escape(result.event(one.event).name): agreement_word(one) + (UNCERTAIN if is_uncertain(one) else "")
        for one in seen
    }
    said = next(iter(words.values()))
    if len(set(words.values())) > 1:
        said = "; ".join(f"{name}: {word}" for name, word in words.items())
    text = f"**Do the judges agree?** {said[0].upper()}{said[1:]}."
    far = marks_farthest(found.views)
    if far is None:
        text += f" {_nobody_named(found.views)}"
        return f"{text} {_mattered(result, found)}" if moves_marks(found.views) else text
    way = "harder" if far.severity > 0 else "softer"
    event = escape(result.event(far.event).name)
    points = f"{abs(float(far.severity)):.1f} sheet points"
    who = result.judge(far.judge_id)
    chance = " (which chance alone could do)" if chance_could(far, found.evened) else ""
    text += f" {who[0].upper()}{who[1:]} marks {event} {points} {way} than the average judge{chance}. "
    return text + _mattered(result, found)


def _nobody_named(views: Sequence[JudgeView]) -> str:
    if not any(view.is_compared for view in views):
        return "Too few squads in common to tell who marks harder or softer."
    who = "them" if all(view.is_compared for view in views) else "those who can be compared"
    return f"None of {who} marks harder or softer than the rest."


def _mattered(result: ResultView, found: Analysis) -> str:
    other = found.evened_standings
    match mattered(result.plan, result.standings, found.evened, other):
        case "cannot tell":
            return "Some squads share no judge, so whether that mattered cannot be told."
        case "nobody gains":
            return "It did not matter: all judges saw all squads, so nobody gains by it."
        case "same":
            stays = "the winner stays" if result.standings.places == 1 else "the winners stay"
            stays = stays if result.standings.straddle is None else "the tie stays"
            return f"It did not matter: with harsh and lenient judges evened out, {stays}."
        case "other winner":
            names = listing(result.names(other.placed))
            return f"**It may have mattered:** evened out, it would go to {names}. The plan's own rule decides."
        case "tie":
            return "**It may have mattered:** evened out, there would be a tie. The plan's own rule decides."


def provisional_line(result: ResultView, announced: bool, why: Doubt | None) -> str:
    """What is not final yet."""
    days = result.plan.protest_days
    if announced and why is None:
        return "**Final:** the result is not provisional any more." if days else "**Final:** since the announcement."
    if why is not None and why.protests:
        return f"**Not final:** {count(why.protests, 'protest')} not settled."
    if not days:
        return "**Provisional:** nothing; the plan has no time for protests."
    until = f"the evening of {school_day_after(days)} after you announce"
    if why is not None and why.until is not None:
        until = full(why.until)
    return f"**Provisional** until {until}: until then it may be questioned and corrected."


def next_line(result: ResultView, announced: bool) -> str:
    """What to do now."""
    if result.standings.straddle is not None:
        if not has_run_offs(result.plan):
            return "**Next:** settle the tie. Press **Plan**."
        return "**Next:** hold the run-off. Press **Table**."
    if announced:
        return "**Next:** press **Offer the place**: it says who is asked, what they answered, and who is next."
    return "**Next:** press **Announce**. It shows you the words first; nothing is said before you press again."


def _lead(two: tuple[Row, Row]) -> Fraction:
    assert two[0].total is not None and two[1].total is not None
    return two[0].total - two[1].total


def _points(lead: Fraction) -> str:
    return f"{rounded(lead, 1)} points" if lead >= LEAST else "less than 0.1 points"


def _signed(more: Fraction) -> str:
    sign = "+" if more > 0 else "-"
    return f"{sign}{rounded(abs(more), 1)}" if abs(more) >= LEAST else f"{sign}less than 0.1"
