"""What scales and panel rules are called, and why marks and measured values cannot be counted by them."""

from bot.rules.core.refusal_reasons import Reason

REFUSALS = {
    Reason.NO_ATTEMPT: "There is no attempt for {measure} yet, so nothing can be computed.",
    Reason.PANEL_EMPTY: "No judge whose marks count has handed in a sheet here, so there is no mean yet.",
    Reason.JUDGE_WEIGHT: "A judge's weight of {weight} will not do; use 0 (shown, not counted) to 5.",
    Reason.MARK_MISSING: "A sheet lacks its mark for {criterion}, so it cannot be counted.",
    Reason.MARK_LEVEL: "A sheet gives {criterion} the level {level}; the highest is {highest}. Let the judge correct "
    "it.",
    Reason.MARK_TWICE: "A judge has two sheets for one squad, so neither can be counted. Tell whoever looks after "
    "the bot.",
    Reason.SCALE_TIME: "A time of {seconds} seconds cannot be put on a scale. Undo that attempt at the table.",
    # A checked plan has what its own scales need, so these two are said only where **What if?** tries another scale.
    Reason.SCALE_ENDS: "The plan gives a measure only one end, or twice the same, so not everything can be scored as "
    "position between two ends. Choose another scale.",
    Reason.SCALE_MAXIMUM: "The plan gives a measure no maximum above 0, so not everything can be scored as percent of "
    "the maximum. Choose another scale.",
}
SCALES = {
    "maximum": "percent of the maximum",
    "best": "percent of the best",
    "between": "position between two ends",
    "rank": "ranks",
    "standard": "standard scores",
}
BY_SCALE = {
    "maximum": "of the maximum",
    "best": "of the best squad's",
    "between": "between floor and full mark",
    "rank": "by rank among the squads",
    "standard": "by distance from the mean of all squads",
}
"""The same within a line about one value."""
PANELS = {
    "mean": "mean of the judges",
    "median": "median of the judges",
    "trimmed": "mean without the highest and the lowest judge",
    "adjusted": "mean, corrected for harsh and lenient judges",
}
