"""All students as the coach picks from them: in which order they stand."""

from collections.abc import Iterable, Sequence

from storage.records.people import Squad, Student


def in_order(squads: Iterable[tuple[Squad | None, Sequence[Student]]]) -> list[tuple[Student, Squad | None]]:
    """Students with their squads; those without one come first, the others squad by squad as they came."""
    rows = sorted(squads, key=lambda row: row[0] is not None)
    return [(one, squad) for squad, members in rows for one in members]
