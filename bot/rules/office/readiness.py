"""Whether a try-out is ready for its next step: gathers what each step says that it needs, all of it at once."""

from collections.abc import Iterator
from typing import Literal

from bot.rules.calendar import release_brief, step_facts
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.judging import close_judging, open_judging
from bot.rules.office import open_sign_up, stop_or_put_away
from bot.rules.squads import exclusive_roles
from storage.records.tryout import State

Step = Literal["open", "brief", "judge", "settle", "announce", "archive"]
NEXT: dict[State, Step | None] = {
    "drafting": "open",
    "signup": "brief",
    "window": "judge",
    "judging": "settle",
    "settled": "announce",
    "announced": "archive",
    "archived": None,
}
"""The step that leads out of each state: sign-up opens, the brief goes out, the window ends, judging closes, the result
is announced, the try-out is put away."""
_NEEDS = {
    "open": open_sign_up.lacks,
    "brief": release_brief.lacks,
    "judge": open_judging.lacks,
    "settle": close_judging.lacks,
    "announce": step_facts.channels,
    "archive": stop_or_put_away.lacks,
}


def lacks(facts: Facts, step: Step | None = None) -> tuple[Lack, ...]:
    """What is missing for a step, or for the next one; what blocks it comes first."""
    found = [*_needs(facts, step or NEXT[facts.state]), *exclusive_roles.lacks(facts)]
    return tuple(sorted(found, key=lambda lack: not lack.blocks))


def ready(facts: Facts, step: Step) -> bool:
    """Whether nothing blocks a step."""
    return not any(lack.blocks for lack in lacks(facts, step))


def _needs(facts: Facts, step: Step | None) -> Iterator[Lack]:
    return _NEEDS[step](facts) if step else iter(())
