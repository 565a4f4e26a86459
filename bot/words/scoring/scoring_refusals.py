"""Why something cannot be counted: what a table, a sheet or the plan lacks for the standings."""

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
    Reason.TIE_BREAK: "The plan breaks ties by **{key}**, which is not in the plan. Correct the plan.",
    Reason.SCALE_TIME: "A time of {seconds} seconds cannot be put on a scale. Undo that attempt at the table.",
    Reason.SCALE_ENDS: "The plan gives a measure the scale `between` with floor {floor} and full {full}. Correct the "
    "plan.",
    Reason.SCALE_MAXIMUM: "The plan gives a measure no usable maximum ({maximum}). Correct the plan.",
}
