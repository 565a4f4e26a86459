"""The score book with its standings: what every text and picture about the result is composed from."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import cached_property

from bot.rules.core.rounding import shown
from bot.rules.scoring.standings_records import Row, Standings
from bot.words.core.plain_text import escape
from storage.records.people import Judge, Squad
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Measure
from storage.records.scores import ScoreBook


@dataclass(frozen=True)
class ResultView:
    """A book, what it comes to, and for whom it is shown."""

    book: ScoreBook
    standings: Standings
    hidden: frozenset[int] = field(default_factory=frozenset)
    """Squads whose marks the reader, a judge, may not see before the own sheets are closed."""
    on: date | None = None
    """The local day on which it is looked at, for the pictures."""

    @property
    def plan(self) -> Plan:
        """The plan that counts."""
        return self.book.plan

    @cached_property
    def squads(self) -> dict[int, Squad]:
        """Every squad by id."""
        return {squad.id: squad for squad in self.book.squads}

    @cached_property
    def judges(self) -> dict[int, Judge]:
        """Every judge by id."""
        return {judge.id: judge for judge in self.book.judges}

    @cached_property
    def totals(self) -> dict[Fraction, str]:
        """Each total as it is shown among the others: equal ones alike, different ones different.

        And different from the total that a plan asks for, so that nobody seems to reach it who is just below.
        """
        totals = {row.total for row in self.standings.rows if row.total is not None}
        asked = set() if self.plan.qualify is None else {Fraction(self.plan.qualify)}
        return shown(totals | asked, least=1)

    @property
    def rows(self) -> tuple[Row, ...]:
        """The ranked squads that the reader may see, best first."""
        return tuple(row for row in self.standings.rows if row.squad_id not in self.hidden)

    def total(self, row: Row) -> str:
        """A squad's total as it is shown; a dash while something is missing."""
        return "-" if row.total is None else self.totals[row.total]

    def name(self, squad_id: int) -> str:
        """A squad's name, made harmless."""
        return escape(self.squads[squad_id].name)

    def names(self, squad_ids: Iterable[int]) -> list[str]:
        """Several squads' names, in bold."""
        return [f"**{self.name(squad_id)}**" for squad_id in squad_ids]

    def judge(self, judge_id: int | None) -> str:
        """A judge's number and name, for the coach alone."""
        judge = self.judges.get(judge_id or 0)
        return "a judge" if judge is None else f"judge {judge.number} ({escape(judge.name)})"

    def event(self, key: str) -> Event:
        """The event of a key."""
        return next(event for event in self.plan.events if event.key == key)

    def measure(self, event: str, key: str) -> Measure:
        """The measure of a key."""
        return next(measure for measure in self.event(event).measures if measure.key == key)

    def rubric_name(self, event: str, measure: str) -> str:
        """What a rubric is called: the event's name, and its own where that is another."""
        whole, part = self.event(event).name, self.measure(event, measure).name
        return escape(whole if whole == part else f"{whole}, {part}")

    def criterion(self, event: str, measure: str, key: str) -> str:
        """The name of a criterion."""
        rubric = self.measure(event, measure)
        assert rubric.kind == "rubric"
        return next(criterion.name for criterion in rubric.criteria if criterion.key == key)
