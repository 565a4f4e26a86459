"""Which squad is led to after saving: without a timetable the next number with attempts left, and round again."""

from collections.abc import Collection, Sequence


def leads_on(after: int | None, squad: int) -> bool:
    """Whether a squad's page leads on to the next one: where there is another one."""
    return after is not None and after != squad


def following(squads: Sequence[int], with_attempts_left: Collection[int], after: int) -> int | None:
    """The next squad, by number and round again, that still has attempts left; None where no other one has."""
    place = squads.index(after)
    return next((one for one in (*squads[place + 1 :], *squads[:place]) if one in with_attempts_left), None)
