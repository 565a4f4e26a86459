"""What each squad has on record at the table, measure by measure; a sealed surprise is not among them."""

from dataclasses import dataclass

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping import score_table as rules
from bot.rules.scorekeeping.attempts import is_done
from bot.rules.scoring.measures import attempts_allowed
from bot.words.scorekeeping import score_table as words
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Measure
from storage.records.scores import Absence, Attempt
from storage.records.tryout import Tryout
from storage.tables import absences, attempts, squads, surprise_waves, surprises
from storage.tables.sql_session import Snapshot


@dataclass(frozen=True)
class Spot:
    """One squad at one measure, with what is on record there."""

    event: Event
    measure: Measure
    squad: Squad
    attempts: tuple[Attempt, ...]
    run_offs: tuple[Attempt, ...]
    absence: Absence | None

    @property
    def allowed(self) -> int:
        """How many official attempts the plan gives."""
        return attempts_allowed(self.measure)

    @property
    def done(self) -> bool:
        """Whether nothing more is awaited of it here."""
        return is_done(len(self.attempts), self.allowed, self.absence is not None)

    @property
    def line(self) -> words.Line:
        """The squad as it stands in the list."""
        return words.Line(self.squad, self.attempts, self.absence)


async def events_shown(db: Snapshot, tryout: Tryout) -> list[Event]:
    """The events without what must stay secret; a surprise is among them once it has started for any squad."""
    return rules.events_shown(tryout.plan, await _started(db, tryout))


async def measures_shown(db: Snapshot, tryout: Tryout) -> list[tuple[Event, Measure]]:
    """What is recorded at the table, without what must stay secret; Refusal `table_surprise`."""
    return rules.measures_shown(tryout.plan, await _started(db, tryout))


async def _started(db: Snapshot, tryout: Tryout) -> frozenset[str]:
    """The surprises that have started for any squad."""
    started = await surprises.started(db, tryout.id)
    return started | {one.event for one in await surprise_waves.starts(db, tryout.id)}


async def measure_of(db: Snapshot, tryout: Tryout, about: str) -> tuple[Event, Measure]:
    """The measure `event.measure`; Refusal `no_measure`, also for a surprise that has not started."""
    shown = {event.key for event in await events_shown(db, tryout)}
    for event, measure in rules.measures_of(tryout.plan):
        if words.measure_value(event, measure) == about and event.key in shown:
            return event, measure
    raise Refusal(TableReason.NO_MEASURE)


async def spots(db: Snapshot, tryout: Tryout, about: str) -> list[Spot]:
    """Every squad at one measure, in the order of their numbers; of a surprise those for which it has started."""
    event, measure = await measure_of(db, tryout, about)
    taking_part = await squads.squads(db, tryout.id)
    if event.surprise:
        for_all = await surprises.started(db, tryout.id)
        wave = await surprise_waves.started_for(db, tryout.id, event.key)
        taking_part = rules.squads_at(event, taking_part, for_all, wave)
    made = await attempts.at_measure(db, tryout.id, event.key, measure.key)
    away = {one.squad_id: one for one in await absences.absences(db, tryout.id) if one.event == event.key}
    return [
        Spot(
            event,
            measure,
            squad,
            tuple(one for one in made if one.squad_id == squad.id and not one.run_off),
            tuple(one for one in made if one.squad_id == squad.id and one.run_off),
            away.get(squad.id),
        )
        for squad in rules.in_order(taking_part)
    ]


async def spot_of(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Spot:
    """One squad at one measure; Refusal `no_measure`, `squad_not_at_table`."""
    for spot in await spots(db, tryout, about):
        if spot.squad.id == squad_id:
            return spot
    raise Refusal(TableReason.SQUAD_NOT_AT_TABLE)
