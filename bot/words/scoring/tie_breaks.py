"""Ties in words: what parted squads of the same total, and how a tie for the last place is settled."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.standings_records import Tie
from bot.rules.scoring.tie_breaks import has_run_offs, parting
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.scoring.result_view import ResultView

REFUSALS = {
    Reason.TIE_BREAK: "The plan breaks ties by **{key}**, which is not in the plan. Correct the plan.",
}


def tie_lines(result: ResultView) -> str:
    """The squads with exactly the same total, and what separated them. Empty when there are none."""
    lines = [f"- {_tie_text(result, tie)}" for tie in result.standings.ties]
    return "**Ties** (equal totals)\n" + "\n".join(lines) if lines else ""


def _tie_text(result: ResultView, tie: Tie) -> str:
    text = f"{listing(result.names(tie.squads))} have the same total"
    decided = ", then ".join(breaker_name(result, by) for by in parting(tie))
    if not tie.left:
        return f"{text}; decided by {decided}."
    if len(tie.left) == 1 and set(tie.left[0]) == set(tie.squads):
        return f"{text}, and nothing in the plan separates them: they share place {tie.rank}."
    still = "; ".join(listing(result.names(group)) for group in tie.left)
    return f"{text}; decided by {decided}, but for {still}, who share a place."


def breaker_name(result: ResultView, by: str) -> str:
    """What broke a tie: `Sock run`, `Bunting, Written reasons`, `run-off 1 at Sock run`."""
    if by.startswith("run-off"):
        _, turn, about = by.split(" ")
        return f"run-off {turn} ({breaker_name(result, about)})"
    event_key, *rest = by.split(".")
    names = [result.event(event_key).name]
    if rest:
        measure = result.measure(event_key, rest[0])
        names.append(measure.name)
        if len(rest) > 1:
            names.append(result.criterion(event_key, *rest))
    return ", ".join(escape(name) for name in dict.fromkeys(names))


def run_off_lines(result: ResultView) -> str:
    """How to settle the tie for the last place."""
    straddle = result.standings.straddle
    assert straddle is not None
    equal = (
        f"{listing(result.names(straddle.squads))} are exactly equal, with {count(straddle.places_left, 'place')} left"
    )
    if not has_run_offs(result.plan):
        more = count(len(straddle.squads) - straddle.places_left, "place")
        where = "Use a plan file" if result.plan.place_groups else "Sections and sizes"
        return (
            f"**This tie is yours to settle.** {equal}, and nothing in this plan can be run off. Press **Plan** in the "
            f"office, then **{where}**, and give {more} more. The class reads why."
        )
    return (
        f"**A run-off is due.** {equal}. "
        "Let each of them make one more attempt at the table: /table, then the squad, then **Enter run-off**. "
        "A run-off decides this tie only and changes no total."
    )
