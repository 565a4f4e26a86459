"""The proposal of squads: what can be changed and accepted, who is seated by it, and which new squads are founded."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import alike
from bot.rules.squads.squads_admin import check_takes_part
from storage.records.people import Squad, Student
from storage.records.plan import Squads
from storage.records.wishes_and_proposals import Proposal, ProposedSeat

MOST_NEW = 999
"""The highest number of a new squad; some stay unused where the coach changes a proposal often."""


def why_alone(number: int, smallest: int, largest: int, room: int) -> str:
    """Why students are left: `too_few` for a squad of their own, or `no_split` into squads of these sizes."""
    return "too_few" if number < smallest and not room else "no_split"


def gives_place(seat: ProposedSeat) -> bool:
    """Whether a student is proposed for a squad, a new one or not; otherwise there is no place for now."""
    return seat.squad_id is not None or seat.new_squad is not None


def in_order(seats: Iterable[ProposedSeat]) -> list[ProposedSeat]:
    """In which order students stand in the proposal, and in the list from which one is picked: as they were entered."""
    return sorted(seats, key=lambda seat: seat.student_id)


def not_answered(seats: Iterable[ProposedSeat]) -> list[ProposedSeat]:
    """Who is seated when the coach waits no longer: those with a place who have said neither yes nor no."""
    return [seat for seat in seats if gives_place(seat) and seat.answer is None]


def willing(seats: Iterable[ProposedSeat]) -> list[ProposedSeat]:
    """Who founds a new squad: those who have said yes."""
    return [seat for seat in seats if seat.answer == "yes"]


def could_go_to(
    one: Student, rows: Iterable[tuple[Squad, Sequence[Student]]], largest: int
) -> list[tuple[Squad, Sequence[Student]]]:
    """The squads that can be proposed for a student instead: of the own section, with a free seat."""
    return [(squad, members) for squad, members in rows if squad.section == one.section and len(members) < largest]


def check_draft(made: Proposal | None) -> Proposal:
    """A proposal is accepted once, while it is a draft. Raises Refusal `proposal_gone`."""
    if made is None or made.accepted_at is not None:
        raise Refusal(Reason.PROPOSAL_GONE)
    return made


def check_accepted(made: Proposal | None) -> Proposal:
    """All are seated without an answer only where students may answer. Raises Refusal `proposal_gone`."""
    if made is None or made.accepted_at is None:
        raise Refusal(Reason.PROPOSAL_GONE)
    return made


def check_may_be_given(squad: Squad | None, one: Student) -> None:
    """A student is proposed for a squad of the own section that takes part. Raises Refusal `squad_withdrawn`."""
    if check_takes_part(squad, one.tryout_id).section != one.section:
        raise Refusal(Reason.SQUAD_WITHDRAWN)


def check_joined(sizes: Squads, squad: Squad, members: int) -> None:
    """A squad that some are proposed for would not have too many members. Raises Refusal `proposal_size`."""
    if members > sizes.largest:
        raise _illegal(sizes, squad.name, members)


def check_new(sizes: Squads, name: str, group: Sequence[Student]) -> None:
    """A new squad would be neither too small nor too large, and of one section. Raises Refusal `proposal_size`."""
    if not sizes.smallest <= len(group) <= sizes.largest or len({one.section for one in group}) > 1:
        raise _illegal(sizes, name, len(group))


def _illegal(sizes: Squads, name: str, members: int) -> Refusal:
    return Refusal(Reason.PROPOSAL_SIZE, squad=name, size=members, smallest=sizes.smallest, largest=sizes.largest)


def alone_by_section(alone: Iterable[Student]) -> list[tuple[str, int]]:
    """How many students without a squad there are, by section, A to Z."""
    return sorted(Counter(one.section for one in alone).items())


def all_have_answered(seats: Iterable[ProposedSeat]) -> bool:
    """Whether a proposed new squad is founded, or given up, now: every one of its students has said yes or no."""
    return all(seat.answer is not None for seat in seats)


def enough_to_found(sizes: Squads, founders: Sequence[Student]) -> bool:
    """Whether those who are willing, and may compete, are enough for the new squad; otherwise the coach is told."""
    return len(founders) >= sizes.smallest


def willing_unasked(one: Student) -> bool:
    """Whether a student is taken for willing as soon as the coach accepts: without an account nobody can answer."""
    return one.platform_id is None


def next_new_squad(seats: Iterable[ProposedSeat]) -> int:
    """The number of one more new squad in the proposal."""
    return max((seat.new_squad or 0 for seat in seats), default=0) + 1


def first_free_name(name_of: Callable[[int], str], taken: Sequence[str]) -> str:
    """What a new squad is called until somebody names it: the first of the numbered names that is like none in use."""
    names = (name_of(number) for number in range(1, len(taken) + 2))
    return next(one for one in names if not any(alike(one, other) for other in taken))
