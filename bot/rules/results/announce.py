"""The announcement: what still stands in its way, and which squads the class reads about, in which order."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.scoring.measures import attempts_allowed
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row, Standings
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.scores import ScoreBook
from storage.records.tryout import State

PODIUM = 3
"""So many places the class reads where the plan says podium; more where more places are won."""
Obstacle = Literal["judging_open", "own_sheets", "open_again", "nobody_ranked", "some_unranked", "tie"]


@dataclass(frozen=True)
class Unused:
    """Squads that could still make an attempt at a measure."""

    event: str
    measure: str
    squads: Sequence[str]


def obstacles(standings: Standings, judging_closed: bool, own_sheets: int, open_again: int = 0) -> list[Obstacle]:
    """Everything that stands in the way of an announcement; empty when nothing does.

    While judging is open only that and the coach's own sheets: an exact tie would say who is in front. A sheet that is
    `open_again` may still change the result.
    """
    found: list[Obstacle] = [] if judging_closed else ["judging_open"]
    if own_sheets:
        found.append("own_sheets")
    if not judging_closed:
        return found
    if open_again:
        found.append("open_again")
    if not standings.rows:
        found.append("nobody_ranked")
    if standings.unranked:
        found.append("some_unranked")
    if standings.straddle is not None:
        found.append("tie")
    return found


def shown_rows(plan: Plan, standings: Standings) -> list[Row]:
    """The squads that the class sees, best first; the winners alone by number."""
    if plan.announce == "table":
        return list(standings.rows)
    if plan.announce == "podium":
        last = max(PODIUM, len(standings.placed))
        return [row for row in standings.rows if row.rank is not None and row.rank <= last]
    return winners(standings)


def winners(standings: Standings) -> list[Row]:
    """The squads that hold a place, by number, so that nothing is said about an order among them."""
    placed = set(standings.placed)
    return by_number(row for row in standings.rows if row.squad_id in placed)


def unused_attempts(book: ScoreBook) -> list[Unused]:
    """Who could still make an attempt: squads that take part and have not used all that the plan gives them."""
    found = []
    for event in book.plan.events:
        away = {one.squad_id for one in book.absences if one.event == event.key}
        for measure in event.measures:
            made = Counter(
                one.squad_id
                for one in book.attempts
                if (one.event, one.measure) == (event.key, measure.key) and not one.run_off
            )
            allowed = attempts_allowed(measure)
            names = [one.name for one in book.squads if one.id not in away and made[one.id] < allowed]
            if names:
                found.append(Unused(event.name, measure.name, names))
    return found


def check_not_announced(announced_at: datetime | None) -> None:
    """A result is announced once. Raises Refusal: `already_announced`."""
    if announced_at is not None:
        raise Refusal(ResultReason.ALREADY_ANNOUNCED)


def check_announced(announced_at: datetime | None) -> None:
    """The result is announced. Raises Refusal: `not_announced`."""
    if announced_at is None:
        raise Refusal(ResultReason.NOT_ANNOUNCED)


def check_ready(state: State, own_sheets: Collection[int]) -> None:
    """Judging is closed, and the coach who announces owes no sheet. Raises Refusal: `not_ready_to_announce`."""
    if state != "settled" or own_sheets:
        raise Refusal(ResultReason.NOT_READY_TO_ANNOUNCE)


def on_paper(rows: Iterable[tuple[Squad | None, Sequence[Student]]]) -> list[Squad]:
    """The squads that get their own result on paper: nobody in them has an account; `rows` are squads with members."""
    return [squad for squad, members in rows if squad and members and not any(one.platform_id for one in members)]
