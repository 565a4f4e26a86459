"""A student leaves a squad: until when, what the coaches read, who leads it then, and whether it is closed if empty."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.squads.captain import next_captain
from bot.rules.squads.sign_up import check_signup_open
from storage.records.people import Squad, Student
from storage.records.tryout import State


def check_may_leave(helps: bool, state: State, closes: datetime, now: datetime) -> None:
    """While squads may change; whoever helps to run the try-out but for the seat may always, to do so again.

    Raises:
        Refusal: as `check_signup_open`.
    """
    if not helps:
        check_signup_open(state, closes, now)


def coaches_read_it(signup_open: bool) -> bool:
    """Whether the coaches are told that somebody has left, and can undo it: once sign-up has closed."""
    return not signup_open


def goes_when_empty(result_stands: bool) -> bool:
    """Whether a squad that nobody is in any more is closed; not once the result is announced, in which it stands."""
    return not result_stands


def leads_then(squad: Squad, me: Student, members: Sequence[Student]) -> Student | None:
    """Who is captain when I have left, if that is somebody else than now."""
    then = next_captain(squad, [one for one in members if one.id != me.id])
    return then if then is not None and then.id != squad.captain_id else None
