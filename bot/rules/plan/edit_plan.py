"""What a coach may type into the forms of the plan: sizes, days, places, weights; and which lessons then stay."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from bot.rules.core.parse_typed import read_between, read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records import plan_limits as limits
from storage.records.day_plan import DayPlan
from storage.records.plan import Event
from storage.records.tryout import BEFORE_BRIEF, State


def read_days(typed: str) -> int:
    """Days to the deadline. Raises Refusal `typed_days`."""
    return read_between(typed, Reason.TYPED_DAYS, *limits.WINDOW_DAYS)


def read_places(typed: str) -> int:
    """How many squads win. Raises Refusal `typed_places`."""
    return read_between(typed, Reason.TYPED_PLACES, *limits.PLACES)


def split_sizes(typed: str) -> tuple[str, str]:
    """The two ends of `3-5` or `3 to 5`; of one number, twice that number."""
    least, _, most = typed.replace("to", "-").replace("–", "-").partition("-")
    return least, most or least


def read_smallest(typed: str) -> int:
    """The fewest members of a squad. Raises Refusal `typed_smallest`."""
    return read_between(typed, Reason.TYPED_SMALLEST, *limits.SQUAD_MEMBERS)


def read_largest(typed: str) -> int:
    """The most members of a squad; that it is no less than the fewest is checked later. Raises `typed_largest`."""
    return read_between(typed, Reason.TYPED_LARGEST, *limits.SQUAD_MEMBERS)


def read_weight(line: str, events: Sequence[Event], called: Callable[[str], str]) -> tuple[str, Decimal]:
    """A line such as `sock-run = 40`: an event and its weight, which is not below 0.

    `called` says what the weight of an event is called.

    Raises:
        Refusal: `typed_line` (typed), and as `read_points`.
    """
    name, _, number = line.partition("=")
    if name.strip() not in [event.key for event in events] or number.strip().startswith("-"):
        raise Refusal(Reason.TYPED_LINE, typed=line.strip())
    return name.strip(), read_points(number, called(name.strip()))


def without_old_lessons(day: DayPlan, sections: Sequence[str]) -> DayPlan:
    """The plan of the event day without lessons of sections that are no more."""
    return day.model_copy(update={"lessons": tuple(one for one in day.lessons if one.section in sections)})


def dates_are_open(state: State) -> bool:
    """Whether the brief and the end of sign-up can be typed: before the brief; afterwards when judges are done."""
    return state in BEFORE_BRIEF
