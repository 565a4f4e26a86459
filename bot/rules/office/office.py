"""The coach's office: what its main button leads to, which doors are shut, and which dates are shown."""

from collections.abc import Sequence
from typing import Literal

from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.event_day.day_windows import is_event_day
from storage.records.tryout import AFTER_CLOSE, FROM_BRIEF_TO_CLOSE, State

Way = Literal[
    "choose-channels",
    "set-dates",
    "enrol-judges",
    "people",
    "event-day",
    "open-signup",
    "release-brief",
    "ready-judges",
    "judges",
    "result",
    "protests",
    "offer-place",
    "feedback",
    "offers",
    "put-away",
    "begin-anew",
]
"""What the main button leads to."""
Date = Literal["brief", "signup-closes", "deadline", "judging-closes"]
Door = Literal["surprise", "practice", "event-day"]
_NEXT: dict[State, Way] = {
    "drafting": "open-signup",
    "signup": "release-brief",
    "window": "ready-judges",
    "judging": "judges",
    "settled": "result",
    "archived": "begin-anew",
}


def main_way(facts: Facts, lacking: Sequence[Lack]) -> Way:
    """The next step, or what has to be done before it."""
    kinds = {lack.kind for lack in lacking}
    blocking = {lack.kind for lack in lacking if lack.blocks}
    if "rooms" in blocking:
        return "choose-channels"
    if {"brief_past", "signup_past"} & blocking:
        return "set-dates"
    if facts.state == "signup" and "no_judges" in kinds:
        return "enrol-judges"
    if facts.state == "signup" and {"alone", "small"} & kinds:
        return "people"
    if facts.state in FROM_BRIEF_TO_CLOSE and is_event_day(facts.plan, facts.schedule, facts.now):
        return "event-day"
    return _after_the_result(facts) if facts.state == "announced" else _NEXT[facts.state]


def _after_the_result(facts: Facts) -> Way:
    """Protests first, then the place, then the feedback; nothing is put away before the result is final."""
    if facts.protests:
        return "protests"
    if not facts.places_given:
        return "offer-place"
    if facts.feedback_left:
        return "feedback"
    return "offers" if facts.protests_end is not None and facts.now < facts.protests_end else "put-away"


def shut_doors(facts: Facts) -> frozenset[Door]:
    """What has no button because it cannot be done now: surprise, practice and event day run from the brief on."""
    doors: tuple[Door, ...] = ("surprise", "practice", "event-day")
    if facts.state not in FROM_BRIEF_TO_CLOSE:
        return frozenset(doors)
    there = {"surprise": facts.surprises > 0, "practice": facts.plan.practice is not None, "event-day": True}
    return frozenset(door for door in doors if not there[door])


def shown_dates(facts: Facts) -> frozenset[Date]:
    """The dates that are still to come or have just been; none once judging is closed."""
    if facts.state in AFTER_CLOSE:
        return frozenset()
    closes = facts.schedule.signup_closes != facts.schedule.brief
    there: dict[Date, bool] = {
        "brief": True,
        "signup-closes": closes and facts.state in ("drafting", "signup", "window"),
        "deadline": True,
        "judging-closes": facts.state in FROM_BRIEF_TO_CLOSE,
    }
    return frozenset(one for one, shown in there.items() if shown)
