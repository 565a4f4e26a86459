"""The coach corrects a student's name or section: something must change, and another section may need a reason."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student


def check_changes(one: Student, name: str, section: str) -> None:
    """Name or section are others than before. Raises Refusal `nothing_to_correct`."""
    if (name, section) == (one.name, one.section):
        raise Refusal(Reason.NOTHING_TO_CORRECT)


def needs_reason(one: Student, squad: Squad | None, section: str) -> bool:
    """Whether everyone must be able to read why: the seat would be in a squad of another section."""
    return squad is not None and section not in (one.section, squad.section)
