"""Which squad somebody means who types a number or a name."""

from collections.abc import Sequence

from storage.records.people import Squad


def squad_called(typed: str, squads: Sequence[Squad]) -> Squad | None:
    """The squad of that number, or else with that number and name, or else of that name; None where there is none.

    A number is the number of a squad, whatever another one calls itself.
    """
    said = typed.strip().casefold()
    by_name = [
        *((str(one.number), one) for one in squads),
        *((f"{one.number} {one.name}", one) for one in squads),
        *((one.name, one) for one in squads),
    ]
    return next((one for name, one in by_name if name.casefold() == said), None)
