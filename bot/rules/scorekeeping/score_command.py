"""A score typed as one command: which attempt it is, and which squads are suggested meanwhile, in which order."""

from collections.abc import Sequence

from storage.records.people import Squad


def which_attempt(made: int, run_offs: int, allowed: int) -> tuple[int, bool]:
    """The number of the attempt that comes next, and whether it is a run-off: once all that the plan gives are made."""
    return (made + 1, False) if made < allowed else (run_offs + 1, True)


def squads_suggested(said: str, squads: Sequence[Squad]) -> list[Squad]:
    """The squads whose number and name hold what was typed so far, in either case, by number."""
    fitting = [one for one in squads if said.casefold() in f"{one.number} {one.name}".casefold()]
    return sorted(fitting, key=lambda one: one.number)
