"""Students as the coach looks after them: in which order they stand, that nobody is entered twice, and corrections."""

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


def check_corrects(one: Student, name: str, section: str) -> None:
    """A correction gives another name or section than before. Raises Refusal `nothing_to_correct`."""
    if (name, section) == (one.name, one.section):
        raise Refusal(Reason.NOTHING_TO_CORRECT)


def correction_needs_reason(one: Student, squad: Squad | None, section: str) -> bool:
    """Whether everyone must be able to read why: the seat would be in a squad of another section than the new one."""
    return squad is not None and section not in (one.section, squad.section)
