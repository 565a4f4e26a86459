"""Sign-up opens: once, of a try-out that is still being set up; which channels and dates must be there first."""

from collections.abc import Iterator

from bot.rules.calendar import step_facts
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State


def lacks(facts: Facts) -> Iterator[Lack]:
    """What is missing before sign-up opens: the channels, and dates that are yet to come."""
    yield from step_facts.channels(facts)
    if facts.schedule.brief <= facts.now:
        yield Lack("brief_past", fields={"brief": facts.schedule.brief})
    elif facts.schedule.signup_closes <= facts.now:
        yield Lack("signup_past", fields={"closes": facts.schedule.signup_closes})


def check_may_open(state: State) -> None:
    """Sign-up opens while students see nothing yet. Raises Refusal `step_over`."""
    if state != "drafting":
        raise Refusal(Reason.STEP_OVER)
