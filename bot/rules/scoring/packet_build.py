"""From a score book and its standings to a results packet."""

from collections.abc import Mapping
from fractions import Fraction

from bot.rules.plan.read_plan import fingerprint, write_plan
from bot.rules.scoring.measures import attempt_value
from bot.rules.scoring.packet import RECORDED, AbsenceLine, AttemptLine, JudgeLine, Packet, Results, SheetLine
from bot.rules.scoring.standings_records import Gap, Standings
from storage.records.people import Judge
from storage.records.plan import Plan
from storage.records.plan_measures import Measure, Rubric
from storage.records.scores import Attempt, ScoreBook


def build(book: ScoreBook, result: Standings, formulas: str = "") -> Packet:
    """The packet of a book and its standings, with the page of formulas that goes along.

    What does not count is left out: squads that withdrew, removed judges, undone attempts, recused sheets, and whatever
    belongs to no measure of the plan.
    """
    squads = {squad.id: squad.number for squad in book.squads if not squad.withdrawn}
    judges = {judge.id: judge for judge in book.judges if not judge.removed}
    events = {event.key for event in book.plan.events}
    attempts, measures = _attempts(book, squads), measures_of(book.plan)
    return Packet(
        plan=write_plan(book.plan),
        plan_sha256=fingerprint(book.plan),
        formulas=formulas,
        squads=tuple(sorted(squads.values())),
        groups=tuple(
            tuple(sorted(squads[one.id] for one in book.squads if one.id in squads and one.section in group.sections))
            for group in book.plan.place_groups
        ),
        judges=tuple(
            JudgeLine(number=judge.number, weight=judge.weight)
            for judge in sorted(judges.values(), key=lambda judge: judge.number)
        ),
        attempts=tuple(
            _attempt_line(squads[each.squad_id], each, measures[each.event, each.measure]) for each in attempts
        ),
        sheets=tuple(_sheets(book, squads, judges)),
        absences=tuple(
            AbsenceLine(squad=squads[each.squad_id], event=each.event, excused=each.excused)
            for each in sorted(book.absences, key=lambda each: (squads.get(each.squad_id, 0), each.event))
            if each.squad_id in squads and each.event in events
        ),
        results=results_of(book, result),
    )


def results_of(book: ScoreBook, result: Standings) -> Results:
    """The stages of the computation, with people replaced by numbers."""
    rows = sorted((*result.rows, *result.unranked), key=lambda row: row.number)
    numbers = {row.squad_id: row.number for row in rows}
    judges = {judge.id: judge.number for judge in book.judges}
    measures = measures_of(book.plan)
    scores = {
        f"{row.number}/{event.key}.{score.key}": score
        for row in rows
        for event in row.events
        for score in event.measures
    }
    return Results(
        attempts={
            _attempt_line(numbers[each.squad_id], each, measure).where: _value(measure, each)
            for each in _attempts(book, numbers)
            for measure in (measures[each.event, each.measure],)
        },
        sheets={
            f"{where}/{sheet.judge_number}": sheet.value for where, score in scores.items() for sheet in score.sheets
        },
        judge_effects={
            f"{key}/{judges[judge]}": effect
            for key, fitted in result.fits.items()
            for judge, effect in fitted.effects.items()
        },
        values={where: score.value for where, score in scores.items()},
        scaled={where: score.scaled for where, score in scores.items()},
        events={f"{row.number}/{event.key}": event.points for row in rows for event in row.events},
        totals={str(row.number): row.total for row in rows},
        ranks={str(row.number): row.rank for row in rows},
        ties=tuple(tuple(numbers[squad] for squad in group) for tie in result.ties for group in tie.left),
        placed=tuple(numbers[squad] for squad in result.placed),
        straddle=() if result.straddle is None else tuple(numbers[squad] for squad in result.straddle.squads),
        missing=tuple(f"{row.number}/{_missing(gap)}" for row in rows for gap in row.gaps),
    )


def measures_of(plan: Plan) -> dict[tuple[str, str], Measure]:
    """The plan's measures by event and measure."""
    return {(event.key, measure.key): measure for event in plan.events for measure in event.measures}


def _attempts(book: ScoreBook, squads: Mapping[int, int]) -> list[Attempt]:
    measures = measures_of(book.plan)
    found = [
        each
        for each in book.attempts
        if each.undone_at is None
        and each.squad_id in squads
        and not isinstance(measures.get((each.event, each.measure)), Rubric | None)
    ]
    return sorted(
        found, key=lambda each: (squads[each.squad_id], each.event, each.measure, each.run_off, each.number, each.id)
    )


def _attempt_line(squad: int, attempt: Attempt, measure: Measure) -> AttemptLine:
    return AttemptLine(
        squad=squad,
        event=attempt.event,
        measure=attempt.measure,
        number=attempt.number,
        run_off=attempt.run_off,
        **{name: getattr(attempt, name) for name in RECORDED[measure.kind]},
    )


def _sheets(book: ScoreBook, squads: Mapping[int, int], judges: Mapping[int, Judge]) -> list[SheetLine]:
    measures = measures_of(book.plan)
    lines = [
        SheetLine(
            squad=squads[sheet.squad_id],
            judge=judges[sheet.judge_id].number,
            event=sheet.event,
            measure=sheet.measure,
            marks=_marks(rubric, sheet.marks) if sheet.state == "submitted" else None,
        )
        for sheet in book.sheets
        if sheet.squad_id in squads
        and sheet.judge_id in judges
        and sheet.state != "recused"
        and isinstance(rubric := measures.get((sheet.event, sheet.measure)), Rubric)
    ]
    return sorted(lines, key=lambda line: (line.squad, line.event, line.measure, line.judge))


def _marks(rubric: Rubric, marks: Mapping[str, int]) -> dict[str, int]:
    """The marks for the rubric's criteria, without those that a change of plan has left behind."""
    return {criterion.key: marks[criterion.key] for criterion in rubric.criteria if criterion.key in marks}


def _value(measure: Measure, attempt: Attempt) -> Fraction | None:
    assert not isinstance(measure, Rubric)
    return attempt_value(measure, attempt)


def _missing(gap: Gap) -> str:
    where = f"{gap.event}.{gap.measure}" if gap.event else "-"
    return f"{gap.kind}/{where}" + ("" if gap.judge_number is None else f"/{gap.judge_number}")
