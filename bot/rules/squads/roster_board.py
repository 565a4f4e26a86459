"""What the roster board shows: squads and students of a section, who needs a squad, and when a squad is full."""

from collections.abc import Sequence

from bot.rules.squads.members import free_seats
from bot.rules.squads.small_squads import members_missing
from storage.records.people import Squad, Student
from storage.records.plan import Plan

Roster = Sequence[tuple[Squad | None, Sequence[Student]]]
"""Every squad with its members; under None the students without a squad."""


def with_names(plan: Plan) -> bool:
    """Whether students stand there with their names; otherwise with code names."""
    return plan.squads.board != "code-names"


def squads_of(roster: Roster, section: str) -> list[tuple[Squad, Sequence[Student]]]:
    """The squads that stand under a section, in the order of the roster."""
    return [(squad, members) for squad, members in roster if squad is not None and squad.section == section]


def needing_squad(roster: Roster, section: str) -> int:
    """How many students of a section count as needing a squad: those in none who look for one."""
    alone = [one for squad, members in roster if squad is None for one in members if one.section == section]
    return sum(one.looking for one in alone)


def seated(roster: Roster) -> tuple[int, int]:
    """How many squads there are, and how many students are in one."""
    found = [members for squad, members in roster if squad is not None]
    return len(found), sum(len(members) for members in found)


def missing_or_free(plan: Plan, members: Sequence[Student]) -> tuple[int, int]:
    """How many members a squad still needs, and how many seats it has free; it is full where both are 0."""
    return members_missing(plan, members), free_seats(members, plan.squads.largest)
