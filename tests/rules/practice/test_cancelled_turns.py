"""Which practice turns are no more after dates were moved."""

from datetime import UTC, datetime, timedelta

from bot.rules.practice.cancelled_turns import stranded
from storage.records.practice import Turn

START, DAY = datetime(2027, 1, 12, 17, 10, tzinfo=UTC), timedelta(days=1)


def turn(begin: datetime, squad: int | None, state: str = "held") -> Turn:
    return Turn.model_validate({"tryout_id": 1, "begins_at": begin, "squad_id": squad, "state": state})


def test_after_dates_moved_only_turns_to_come_that_are_gone_are_stranded() -> None:
    turns = [turn(START + n * DAY, 1) for n in range(4)] + [turn(START + 4 * DAY, 1, "lost")]
    kept = [START + 3 * DAY]
    assert stranded(kept, turns, START) == turns[1:3]
