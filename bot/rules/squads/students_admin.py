"""Students as the coach looks after them: in which order they stand, and that nobody is entered twice."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import alike
from storage.records.people import Squad, Student


def in_order(squads: Iterable[tuple[Squad | None, Sequence[Student]]]) -> list[tuple[Student, Squad | None]]:
    """Students with their squads; those without one come first, the others squad by squad as they came."""
    rows = sorted(squads, key=lambda row: row[0] is not None)
    return [(one, squad) for squad, members in rows for one in members]


def check_new(name: str, section: str, students: Iterable[Student]) -> None:
    """Nobody of a section has a name yet, or one like it. Raises Refusal `student_there` (name, section)."""
    for one in students:
        if one.section == section and alike(one.name, name):
            raise Refusal(Reason.STUDENT_THERE, name=one.name, section=section)
