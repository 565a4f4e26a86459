"""What a correction has changed is kept, so that it can be undone."""

from collections.abc import Mapping
from typing import Any

from storage.records.decisions_and_corrections import Correction, CorrectionKind
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.tables import corrections
from storage.tables.sql_session import Transaction


async def keep_correction(
    db: Transaction,
    request: Request,
    kind: CorrectionKind,
    about: Student | Squad,
    before: Mapping[str, Any],
    after: Mapping[str, Any],
    decision: int | None = None,
) -> None:
    """Keep what stood before a correction of a student or squad, and what stands now; `decision` is what allowed it."""
    await corrections.keep(
        db,
        Correction(
            tryout_id=about.tryout_id,
            kind=kind,
            student_id=about.id if isinstance(about, Student) else None,
            squad_id=about.id if isinstance(about, Squad) else None,
            decision_id=decision,
            before=dict(before),
            after=dict(after),
            made_at=request.at,
        ),
    )


async def keep_move(
    db: Transaction,
    request: Request,
    one: Student,
    before: Mapping[str, Any],
    decision: int | None = None,
) -> None:
    """The same for a student who has another seat now, or none; `before` is the seat as it was."""
    await keep_correction(db, request, "move", one, before, await corrections.seat_of(db, one), decision)
