"""Run-offs: what one is called, and why a squad does not run off, or not yet."""

from bot.rules.core.refusal_reasons_scorekeeping import TableReason

REFUSALS = {
    TableReason.RUN_OFF_LATER: "A run-off comes after judging is closed: before that nobody knows which squads are "
    "equal.",
    TableReason.NO_TIE: "**{squad}** is in no tie that a run-off could break. The standings name the ties.",
}


def run_off_name(number: int) -> str:
    """`run-off 1`."""
    return f"run-off {number}"
