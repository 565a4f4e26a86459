"""What evening out harsh and lenient judges would do to the places, in words."""

from collections.abc import Sequence

from bot.rules.analysis.judges_evened_out import Evened, holders, nobody_gains
from bot.rules.scoring.standings_records import Standings
from bot.words.core.lists_in_text import listing
from bot.words.scoring.result_view import ResultView

RULE = "The plan's own rule decides; it was chosen before any mark existed."


def evened_block(result: ResultView, found: Sequence[Evened], other: Standings) -> str:
    """What evening out harsh and lenient judges would do, and where squads cannot be compared at all."""
    if not found:
        return ""
    lines = ["**With harsh and lenient judges evened out**"]
    parted = [one for one in found if not one.fit.connected]
    for one in parted:
        name = result.rubric_name(one.event, one.measure)
        groups = "; ".join(listing(result.names(part.squads)) for part in one.fit.parts)
        lines.append(
            f"{name}: no chain of common judges links these groups, so squads can be compared only "
            f"within each: {groups}. Let one judge see squads of two groups."
        )
    if parted:
        return "\n".join(lines)
    if nobody_gains(result.plan, found):
        lines.append("Every judge saw every squad, so nobody gains or loses by a harsh judge: the means stay the same.")
        return "\n".join(lines)
    if all(one.complete for one in found):
        lines.append("Every judge saw every squad, but the plan does not take the mean of them all.")
    else:
        lines.append("Not every judge saw every squad, so who got the harsh judges matters.")
    if holders(other) == holders(result.standings):
        stays = "place stays where it is" if other.straddle is None else "tie for the last place stays"
        lines.append(f"Evened out, the {stays}.")
    elif other.placed and other.straddle is not None:
        tied = listing(result.names(other.straddle.squads))
        lines.append(f"Evened out, {tied} would tie for the last place. {RULE}")
    elif other.placed:
        lines.append(f"Evened out, it would go to {listing(result.names(other.placed))}. {RULE}")
    else:
        lines.append(f"Evened out, there would be a tie for the last place. {RULE}")
    return "\n".join(lines)
