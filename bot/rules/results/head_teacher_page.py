"""The head teacher's page: what is counted for it, and what is not."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from bot.rules.results.protests import was_right
from storage.records.decisions_and_corrections import Decision
from storage.records.people import Squad, Student
from storage.records.results import Protest
from storage.records.score_sheets import Sheet


@dataclass(frozen=True)
class Numbers:
    """A try-out in numbers."""

    squads: int
    students: int
    """Those in a squad."""
    without_account: int
    without_squad: int
    judges: int
    sheets: int
    """Handed in."""
    attempts: int
    absences: int
    plan_changes: int
    exceptions: int
    """Whatever else was decided beside the plan."""
    protests: int
    upheld: int
    """By two coaches."""
    incidents: int


def numbers(  # noqa: PLR0913
    *,
    rows: Sequence[tuple[Squad | None, Sequence[Student]]],
    judges: int,
    sheets: Iterable[Sheet],
    attempts: int,
    absences: int,
    decisions: Iterable[Decision],
    protests: Collection[Protest],
    incidents: int,
) -> Numbers:
    """What is counted; `rows` are squads with their members, and under None the students without one."""
    seated = [one for squad, members in rows if squad is not None for one in members]
    kinds = [one.kind for one in decisions]
    return Numbers(
        squads=sum(squad is not None for squad, _ in rows),
        students=len(seated),
        without_account=sum(one.platform_id is None for one in seated),
        without_squad=sum(len(members) for squad, members in rows if squad is None),
        judges=judges,
        sheets=sum(sheet.state == "submitted" for sheet in sheets),
        attempts=attempts,
        absences=absences,
        plan_changes=kinds.count("plan"),
        exceptions=len(kinds) - kinds.count("plan"),
        protests=len(protests),
        upheld=sum(map(was_right, protests)),
        incidents=incidents,
    )
