"""A squad's run sheet as far as it is typed in: what was typed of each part, and whose turn is next."""

from collections.abc import Mapping
from dataclasses import dataclass

from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.rules.event_day import run_sheet_entry as rules
from bot.rules.event_day.run_sheet_entry import PRESENCE, Turn
from bot.rules.scorekeeping.absences import check_takes_part
from bot.words.event_day.run_sheet_entry import Sheet
from storage.records.event_day import RunEntry
from storage.records.people import Student
from storage.records.plan_measures import AtTable, Rubric
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import run_sheet_entries, squads
from storage.tables.sql_session import Snapshot


@dataclass(frozen=True)
class TypedSheet:
    """One squad's sheet with what has been typed in of it."""

    spot: Spot
    measure: AtTable
    members: tuple[Student, ...]
    entries: tuple[RunEntry, ...]
    who: int

    @property
    def shown(self) -> Sheet:
        """What the words show of it."""
        return Sheet(self.spot.squad, self.spot.event, self.measure, self.spot.attempts, self.members)

    @property
    def runs(self) -> Turn | None:
        """Which attempt whoever asks types in next."""
        made, absent = len(self.spot.attempts), self.spot.absence is not None
        return rules.turn_of_attempts(self.measure, self.entries, made, self.spot.allowed, self.who, absent)

    @property
    def presence(self) -> Turn | None:
        """The same of who was here."""
        return rules.turn_of_presence(self.measure, self.entries, self.who, len(self.members))

    def turn(self, number: int) -> Turn:
        """The turn of a part; Refusal `attempt_taken`, `squad_absent`, `sheet_two_people`, `sheet_old`."""
        turn = self.presence if number == PRESENCE else self.runs
        if number != PRESENCE:
            check_takes_part(self.spot.squad, self.spot.absence)
        typed_once = bool(self.entry(number, 1))
        return rules.check_part(number, len(self.spot.attempts), self.spot.allowed, typed_once, turn)

    def entry(self, number: int, entry: int) -> Mapping[str, str]:
        """What has been typed in of a part, the first or the second time."""
        return next((one.fields for one in self.entries if (one.number, one.entry) == (number, entry)), {})


async def typed_sheet(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int) -> TypedSheet:
    """The sheet of a squad in a measure, as whoever asks may go on with it."""
    spot = await spot_of(db, tryout, about, squad_id)
    assert not isinstance(spot.measure, Rubric)
    members = tuple(await squads.members(db, squad_id))
    measure, who = spot.measure, request.who
    entries = await run_sheet_entries.entries(db, squad_id, spot.event.key, measure.key)
    return TypedSheet(spot, measure, members, rules.entries_for(measure, entries, who), who)


def both_entries(found: TypedSheet, number: int) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Both whole entries of a part that differ; Refusal `sheet_old`."""
    turn = found.presence if number == PRESENCE else found.runs
    rules.check_differs(number, turn)
    return found.entry(number, 1), found.entry(number, 2)
