"""Score books for the checks: short to write, whole and valid all the same."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from decimal import Decimal

from storage.records.people import Judge, Squad
from storage.records.plan import Calendar, Event, Plan
from storage.records.plan_measures import Count, Criterion, Item, Measure, Rubric, Share, Time
from storage.records.score_sheets import Sheet
from storage.records.scores import Absence, Attempt, ScoreBook

NOW = datetime(2025, 5, 12, 15, 30, tzinfo=UTC)
LEVELS = ("not seen", "begun", "clear", "strong", "complete", "beyond")


def count(key: str = "samples", **changes: object) -> Count:
    """A counted measure: one point an item, of the maximum 100 and not capped, unless told otherwise."""
    item = Item(key="core", name="sock", points=Decimal(1))
    usual = {"maximum": Decimal(100), "over_maximum": "count", "attempts": 1}
    return Count(**{"key": key, "name": key, "items": (item,), **usual, **changes})  # type: ignore[arg-type]


def timed(key: str = "relay", **changes: object) -> Time:
    """A timed measure with a limit of 300 seconds."""
    return Time(**{"key": key, "name": key, "limit": Decimal(300), **changes})  # type: ignore[arg-type]


def rubric(key: str = "patch", weights: Sequence[object] = (1, 1), levels: int = 4, **changes: object) -> Rubric:
    """A rubric with criteria `c1`, `c2` and so on of these weights, not capped at the top."""
    rows = tuple(
        Criterion(key=f"c{n}", name=f"criterion {n}", weight=Decimal(str(weight)), levels=LEVELS[:levels])
        for n, weight in enumerate(weights, start=1)
    )
    usual = {"criteria": rows, "over_maximum": "count"}
    return Rubric(**{"key": key, "name": key, **usual, **changes})  # type: ignore[arg-type]


def share(key: str = "hands", **changes: object) -> Share:
    """A share measure."""
    return Share(**{"key": key, "name": key, **changes})  # type: ignore[arg-type]


def event(key: str, *measures: Measure, weight: object = 1) -> Event:
    """An event of these measures."""
    return Event(key=key, name=key, weight=Decimal(str(weight)), measures=measures)


def plan(*events: Event, places: int = 1, tie_breaks: Sequence[str] = ()) -> Plan:
    """A plan of these events."""
    return Plan(
        name="Robot club try-out",
        zone="America/New_York",
        sections=("7A",),
        brief="Build and try.",
        places=places,
        calendar=Calendar(brief=datetime(2025, 5, 1, 15, 30)),  # noqa: DTZ001
        events=events,
        tie_breaks=tuple(tie_breaks),
    )


def squads(how_many: int) -> tuple[Squad, ...]:
    """Squads with ids and numbers from 1."""
    return tuple(
        Squad(
            id=n,
            tryout_id=1,
            number=n,
            name=f"Squad {n}",
            section="7A",
            captain_id=None,
            join_code=f"code-{n}",
            created_at=NOW,
        )
        for n in range(1, how_many + 1)
    )


def judges(*weights: object) -> tuple[Judge, ...]:
    """Judges with ids and numbers from 1 and these weights."""
    return tuple(
        Judge(id=n, tryout_id=1, number=n, platform_id=900 + n, name=f"Judge {n}", weight=Decimal(str(weight)))
        for n, weight in enumerate(weights, start=1)
    )


def attempt(squad: int, where: str, **changes: object) -> Attempt:
    """One attempt of a squad at `event.measure`; `core=7` counts seven of the one item."""
    event_key, measure = where.split(".")
    core = changes.pop("core", None)
    items = {} if core is None else {"core": core}
    values = {"id": squad * 100 + int(str(changes.get("number", 1))), "number": 1, "items": items, "recorded_at": NOW}
    values |= changes
    return Attempt(
        squad_id=squad,
        event=event_key,
        measure=measure,
        recorded_by=1,
        **values,  # type: ignore[arg-type]
    )


def sheet(squad: int, judge: int, where: str, marks: Sequence[int] | None, **changes: object) -> Sheet:
    """One judge's sheet for a squad; None leaves it open."""
    event_key, measure = where.split(".")
    filled: Mapping[str, int] = {f"c{n}": mark for n, mark in enumerate(marks or (), start=1)}
    state = "open" if marks is None else "submitted"
    values = {"id": squad * 1000 + judge, "state": state, "marks": filled, **changes}
    return Sheet(judge_id=judge, squad_id=squad, event=event_key, measure=measure, **values)  # type: ignore[arg-type]


def counted_book(table: Sequence[Sequence[int]], weights: Sequence[object], **changes: object) -> ScoreBook:
    """A book of counted events `e1`, `e2` and so on: one row of counts for each squad, maxima 100."""
    events = [event(f"e{n}", count("m"), weight=weight) for n, weight in enumerate(weights, start=1)]
    attempts = [
        attempt(squad, f"e{n}.m", core=items, id=squad * 100 + n)
        for squad, row in enumerate(table, start=1)
        for n, items in enumerate(row, start=1)
    ]
    book = ScoreBook(plan=plan(*events), squads=squads(len(table)), attempts=tuple(attempts))
    return book.model_copy(update=changes)


def absence(squad: int, event_key: str, excused: bool = False) -> Absence:
    """A squad that was not there."""
    return Absence(squad_id=squad, event=event_key, excused=excused, reason="ill" if excused else "")
