"""The spreadsheet: which tables it has, standings only once complete and not sealed, and in which order lines stand."""

from collections.abc import Collection, Iterable, Sequence

from bot.rules.results.hidden_until_close import sealed
from bot.rules.results.preview import shows_files
from bot.rules.scoring.standings_records import Row, Standings
from storage.records.people import Squad, Student
from storage.records.tryout import State


def may_have_standings(state: State) -> bool:
    """Whether standings are looked for: once judging is closed."""
    return not sealed(state)


def has_standings(standings: Standings, hidden: Collection[int]) -> bool:
    """Whether the standings go in, as files do: none with gaps, and none that is `hidden` from a coach who judges."""
    return shows_files(standings, hidden)


def students_in_order(
    rows: Iterable[tuple[Squad | None, Sequence[Student]]],
) -> list[tuple[Student, Squad | None]]:
    """The lines of the roster: squad by squad as members joined, those without a squad last; `rows` come so."""
    return [(one, squad) for squad, members in rows for one in members]


def squads_in_order(standings: Standings) -> list[Row]:
    """The lines of the standings: best first, then the squads that are not ranked."""
    return [*standings.rows, *standings.unranked]
