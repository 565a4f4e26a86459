"""A panel is computed: for whom, with what stays, and kept as it was found."""

from bot.actions.judging.sheets_follow_panels import judges_per_squad, tied_seats
from bot.rules.judging.compute_panel import Panel, Problem
from bot.rules.judging.panels import counted as whose_marks_count
from bot.rules.judging.panels import has_begun
from storage.records.judging import Seat
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.tryout import Tryout
from storage.tables import judges, panels, score_sheets, squads
from storage.tables.sql_session import Snapshot, Transaction


async def names_of(db: Snapshot, tryout: Tryout) -> dict[str, dict[int, str]]:
    """The names of `squads` and `judges` by id."""
    return {
        "squads": {squad.id: squad.name for squad in await squads.squads(db, tryout.id)},
        "judges": {judge.id: judge.name for judge in await judges.judges(db, tryout.id)},
    }


async def problem_of(
    db: Snapshot, tryout: Tryout, event: Event, rubric: Rubric, per_squad: int | None = None
) -> Problem | None:
    """The panel to be computed (for `per_squad` judges, when that is to be tried out); None where all judges see all.

    Only judges whose marks count are shared out. What the coach set stays, and so does what a judge has begun.
    """
    wanted = per_squad or await judges_per_squad(db, tryout, event, rubric)
    if wanted is None:
        return None
    counted = {judge.id for judge in whose_marks_count(await judges.judges(db, tryout.id))}
    pinned = {
        (one.squad_id, one.judge_id) for one in await panels.seats(db, tryout.id, event.key, rubric.key) if one.pinned
    }
    begun = {
        (one.squad_id, one.judge_id)
        for one in await score_sheets.sheets(db, tryout.id)
        if (one.event, one.measure) == (event.key, rubric.key) and has_begun(one)
    }
    tied = await tied_seats(db, tryout)
    return Problem(
        squads=tuple(squad.id for squad in await squads.squads(db, tryout.id)),
        judges=tuple(sorted(counted)),
        per_squad=wanted,
        tied=frozenset(seat for seat in tied if seat[1] in counted),
        fixed=frozenset(seat for seat in (pinned | begun) - tied if seat[1] in counted),
    )


async def keep_panel(db: Transaction, tryout: Tryout, event: Event, rubric: Rubric, panel: Panel) -> None:
    """Keep a panel that was computed; what the coach set stays marked as set, also for judges who do not count."""
    old = await panels.seats(db, tryout.id, event.key, rubric.key)
    pinned = {(one.squad_id, one.judge_id) for one in old if one.pinned} - await tied_seats(db, tryout)
    new = [
        Seat(judge_id=judge, squad_id=squad, event=event.key, measure=rubric.key, pinned=(squad, judge) in pinned)
        for squad, judge in sorted(panel.seats | pinned)
    ]
    await panels.replace_seats(db, tryout.id, event.key, rubric.key, new)
