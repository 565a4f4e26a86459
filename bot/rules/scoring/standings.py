"""The standings: from a score book to exact totals, ranks, ties and places, with the whole way in between.

event points = 100 x weighted mean of the event's scaled measures; total = weighted mean of the event points. Absent
counts 0; excused leaves the event out of that squad's mean. A squad with something missing is not ranked, and what is
missing is named.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from bot.rules.scoring.measures import attempts_allowed
from bot.rules.scoring.places_on_team import contests, is_plain, share_out
from bot.rules.scoring.ranking import rank
from bot.rules.scoring.scales import Roots, scaled
from bot.rules.scoring.standings_records import EventScore, Gap, MeasureScore, Row, Standings
from bot.rules.scoring.tally import Tally, tallies
from bot.rules.scoring.tie_breaks import breakers
from storage.records.people import Squad
from storage.records.plan import Plan
from storage.records.scores import ScoreBook

HUNDRED = 100
Absences = Mapping[tuple[int, str], Literal["absent", "excused"]]
"""By squad id and event key."""


def standings(book: ScoreBook) -> Standings:
    """Compute the standings of a score book.

    Squads that withdrew take no part. The order of squads, judges, attempts and sheets in the book never matters.

    Raises Refusal: what the plan or the book holds makes no sense (`scale_maximum`, `scale_ends`, `tie_break`,
    `mark_level`, `attempt_…`): each names the key and the value.
    """
    squads, absences = _taking_part(book), _absences(book)
    found = measured(book)
    rows = [_row(squad, book.plan, found, absences) for squad in squads]
    whole = {row.squad_id: row for row in rows if not row.gaps}
    totals = {squad_id: row.total for squad_id, row in whole.items() if row.total is not None}
    ranking = rank(totals, breakers(book, found, whole))
    ranks = ranking.ranks
    competing = contests(book.plan, squads, totals)
    shared = share_out(ranking, competing)
    weight = sum((Fraction(event.weight) for event in book.plan.events), Fraction(0))
    return Standings(
        weights={event.key: Fraction(event.weight) / weight for event in book.plan.events},
        places=book.plan.places,
        rows=tuple(replace(whole[squad], rank=ranks[squad]) for group in ranking.groups for squad in group),
        unranked=tuple(row for row in rows if row.gaps),
        ties=ranking.ties,
        straddle=next(iter(shared.straddles), None),
        placed=shared.held,
        contests=competing,
        plain=is_plain(book.plan),
        fits={tally.key: tally.fit for tally in found if tally.fit is not None},
    )


def measured(book: ScoreBook, roots: Roots | None = None) -> list[Tally]:
    """What every squad reached in every measure, on the plan's scales; raises what `standings` raises.

    `roots` is filled with the square roots taken on the scale *standard*, for who goes on computing with the values.
    """
    squads, absences = _taking_part(book), _absences(book)
    found = tallies(book, lambda event: [squad.id for squad in squads if (squad.id, event.key) not in absences])
    roots = Roots() if roots is None else roots
    for tally in found:
        tally.scaled = scaled(tally.measure, tally.values, roots)
    return found


def _taking_part(book: ScoreBook) -> list[Squad]:
    return sorted((squad for squad in book.squads if not squad.withdrawn), key=lambda squad: squad.number)


def _absences(book: ScoreBook) -> Absences:
    return {(absence.squad_id, absence.event): "excused" if absence.excused else "absent" for absence in book.absences}


def _row(squad: Squad, plan: Plan, found: Sequence[Tally], absences: Absences) -> Row:
    away = {event.key: absences.get((squad.id, event.key)) for event in plan.events}
    weights = {event.key: Fraction(event.weight) for event in plan.events if away[event.key] != "excused"}
    whole = sum(weights.values(), Fraction(0))
    events: list[EventScore] = []
    gaps: list[Gap] = []
    for event in plan.events:
        own = [tally for tally in found if tally.event.key == event.key]
        share = weights[event.key] / whole if whole and event.key in weights else Fraction(0)
        events.append(_event(squad.id, event.key, share, away[event.key], own))
        if away[event.key] is None:
            gaps.extend(gap for tally in own for gap in tally.gaps.get(squad.id, ()))
    if not whole:
        gaps.append(Gap(kind="all_excused"))
    contributions = [event.contribution for event in events if event.contribution is not None]
    total = None if gaps else sum(contributions, Fraction(0))
    return Row(squad.id, squad.number, None, total, tuple(events), tuple(gaps))


def _event(
    squad_id: int, event: str, share: Fraction, away: Literal["absent", "excused"] | None, own: Sequence[Tally]
) -> EventScore:
    measures = tuple(
        MeasureScore(
            key=tally.measure.key,
            kind=tally.measure.kind,
            share=tally.share,
            attempts=tally.attempts.get(squad_id, ()),
            attempts_allowed=attempts_allowed(tally.measure),
            sheets=tally.sheets.get(squad_id, ()),
            value=tally.values.get(squad_id),
            scaled=tally.scaled.get(squad_id),
        )
        for tally in own
    )
    if away == "excused":
        return EventScore(event, "excused", None, share, None, measures)
    if away == "absent":
        return EventScore(event, "absent", Fraction(0), share, Fraction(0), measures)
    reached = [measure.share * measure.scaled for measure in measures if measure.scaled is not None]
    if len(reached) < len(measures):
        return EventScore(event, "incomplete", None, share, None, measures)
    points = HUNDRED * sum(reached, Fraction(0))
    return EventScore(event, "scored", points, share, share * points, measures)


def leader(found: Standings) -> Row | None:
    """The first squad, where there is one alone."""
    rows = found.rows
    return rows[0] if rows and (len(rows) == 1 or rows[1].rank != 1) else None


def by_number(rows: Iterable[Row]) -> list[Row]:
    """Squads by their numbers: how they are read while others wait, so that no order is suggested."""
    return sorted(rows, key=lambda row: row.number)
