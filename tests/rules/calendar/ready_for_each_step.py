"""A try-out that lacks nothing for its next step."""

from collections.abc import Iterable
from datetime import UTC, datetime

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.step_facts import Facts, Lack
from storage.records.tryout import ROOM_KINDS
from tests.actions.conftest import small_plan

PLAN = small_plan()
SCHEDULE = schedule(PLAN)
READY = Facts(
    now=datetime(2027, 1, 5, tzinfo=UTC),
    state="signup",
    plan=PLAN,
    schedule=SCHEDULE,
    rooms=frozenset(ROOM_KINDS),
    squads=8,
    seated=30,
    judges=4,
    judges_ready=4,
)


def kinds(found: Iterable[Lack]) -> list[tuple[str, bool]]:
    """What is missing, and whether it stands in the way."""
    return [(lack.kind, lack.blocks) for lack in found]
