"""A score typed as one command: which squads and measures are suggested meanwhile, in which order."""

from collections.abc import Iterable, Sequence

from storage.records.people import Squad


def squads_suggested(said: str, squads: Sequence[Squad]) -> list[Squad]:
    """The squads whose number and name hold what was typed so far, in either case, by number."""
    fitting = [one for one in squads if said.casefold() in f"{one.number} {one.name}".casefold()]
    return sorted(fitting, key=lambda one: one.number)


def measures_suggested(said: str, labels: Iterable[str]) -> list[bool]:
    """Of each measure, by its label, whether it holds what was typed so far, in either case."""
    return [said.casefold() in label.casefold() for label in labels]
