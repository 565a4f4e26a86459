"""The brief goes out: what it needs, when it can be released by hand, and when the days to the deadline begin."""

from collections.abc import Iterator
from datetime import datetime

from bot.rules.calendar import step_facts
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

FEWEST_SQUADS = 1
"""Without so many squads the brief does not go out."""


def lacks(facts: Facts) -> Iterator[Lack]:
    """What is missing before the brief goes out: channels and squads; the rest is worth knowing."""
    yield from step_facts.channels(facts)
    if facts.squads < FEWEST_SQUADS:
        yield Lack("no_squads")
    yield from step_facts.small_squads(facts)
    if facts.alone:
        yield Lack("alone", blocks=False, fields={"students": facts.alone})
    yield from step_facts.judges(facts)


def check_may_release(state: State, brief_at: datetime | None) -> None:
    """The coach can release it while sign-up is open, once. Raises Refusal: `step_over`, `signup_first`."""
    if state != "signup":
        raise Refusal(Reason.STEP_OVER if brief_at else Reason.SIGNUP_FIRST)


def to_the_minute(at: datetime) -> datetime:
    """The minute an instant lies in, so that the deadline is a time of day that people can say."""
    return at.replace(second=0, microsecond=0)


def window_begins(planned: datetime, now: datetime, late: bool) -> datetime:
    """From when the days to the deadline count: as planned, or from now where the bot was off and it comes late."""
    return to_the_minute(now) if late else planned
