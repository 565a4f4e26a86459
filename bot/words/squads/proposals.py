"""The proposal of squads as the coach sees it."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.proposal_search import Open, Split, Wish, score_of
from bot.rules.squads.proposals import alone_by_section, could_go_to, why_alone
from bot.rules.squads.roster_board import Roster
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, MY_SQUAD, PEOPLE
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.plan.squad_size import squad_size
from storage.records.message import Button, Message, Row
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.wishes_and_proposals import Proposal, ProposedSeat, StoredWish

SQUADS = Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads", style="main")
THE_PROPOSAL = Button(key=key(ClassKey.PROPOSAL), label="The proposal")
LOOK = Button(key=key(ClassKey.PROPOSE), label="Look for squads", style="main")
REFUSALS = {
    Reason.NOBODY_ALONE: "Every student has a squad: there is nothing to propose.",
    Reason.PROPOSAL_GONE: "That proposal is not there any more. Open **Propose squads** again.",
    Reason.PROPOSAL_OLD: "A squad of the proposal is no longer there. Press **Look again**.",
    Reason.PROPOSAL_SIZE: "**{squad}** would be a squad of {size}; the plan says {smallest} to {largest}, all of one "
    "section. Change the proposal first.",
}


def new_squad_name(number: int) -> str:
    """What a squad out of a proposal is called until its captain or the coach gives it a name."""
    return f"New squad {number}"


def none_yet(plan: Plan, alone: Sequence[Student]) -> Message:
    """No proposal yet, and for whom one could be made."""
    if not alone:
        return Message(text="Every student has a squad: there is nothing to propose.", rows=((PEOPLE, BACK),))
    where = listing([f"{number} in section {escape(section)}" for section, number in alone_by_section(alone)])
    return Message(
        text=f"**Propose squads**\nWithout a squad: {where}.\nI make squads of {squad_size(plan)} "
        "within each section, and fill the small ones first. Private wishes are kept as far as "
        "can be. You see the proposal before anybody else, and can change it.",
        rows=((LOOK, PEOPLE, BACK),),
    )


def found(splits: Sequence[Split]) -> str:
    """Whether nothing better exists."""
    return (
        ""
        if all(split.exact for split in splits)
        else "Time ran out before I could tell that no wish more can be kept."
    )


@dataclass(frozen=True)
class Shown:
    """A proposal with the places of those who have no squad yet; `stamp` stands for all of its places."""

    made: Proposal
    seats: Sequence[ProposedSeat]
    stamp: str


def proposal(
    plan: Plan, shown: Shown, rows: Roster, wishes: Sequence[StoredWish], said: str = "", page: int = 0
) -> Message:
    """The proposal, section by section, with what it cannot do."""
    made, seats = shown.made, shown.seats
    students = {one.id: one for _, members in rows for one in members}
    squads = {squad.id: (squad, members) for squad, members in rows if squad is not None}
    state = "only a draft" if made.accepted_at is None else "accepted, students answer" if seats else "done"
    lines = [f"**Proposed squads** ({state})"]
    for section in plan.sections:
        inside = [seat for seat in seats if students[seat.student_id].section == section]
        if inside:
            lines += _section(plan, section, inside, students, squads, wishes)
    if not seats:
        lines.append(
            "Everybody of the proposal has a squad now. A new one is called “New squad” with a number until you or its "
            "captain give it a name: button **Squads**."
        )
    if said:
        lines.append(said)
    buttons, page_of = _buttons(shown, students, page)
    return whole_message("\n".join(lines), buttons, foot=page_of)


def _section(
    plan: Plan,
    section: str,
    seats: Sequence[ProposedSeat],
    students: Mapping[int, Student],
    squads: Mapping[int, tuple[Squad, Sequence[Student]]],
    wishes: Sequence[StoredWish],
) -> list[str]:
    joins: dict[int, list[int]] = defaultdict(list)
    new: dict[int, list[int]] = defaultdict(list)
    alone = []
    for seat in seats:
        if seat.squad_id is not None and seat.squad_id in squads:
            joins[seat.squad_id].append(seat.student_id)
        elif seat.new_squad is not None:
            new[seat.new_squad].append(seat.student_id)
        else:
            alone.append(seat.student_id)
    answers = {seat.student_id: seat.answer for seat in seats}

    def names(group: Sequence[int]) -> str:
        marks = {"yes": " (yes)", "no": " (no)", None: ""}
        return listing([escape(students[one].name) + marks[answers[one]] for one in group])

    lines = [f"**Section {escape(section)}**"]
    for squad_id, group in joins.items():
        squad, members = squads[squad_id]
        lines.append(f"- into **{escape(squad.name)}** ({len(members)} there): {names(group)}")
    lines += [f"- new squad {number}: {names(group)}" for number, group in sorted(new.items())]
    if alone:
        room = sum(len(members) < plan.squads.largest for squad, members in squads.values() if squad.section == section)
        lines.append(f"- without a place: {names(alone)}. {_WHY[why_alone(len(seats), *_sizes(plan), room)]}")
    here = [(squad, members) for squad, members in squads.values() if squad.section == section]
    score = score_of(
        joins, list(new.values()), alone, [_open(*one) for one in here], _known(wishes), plan.squads.smallest
    )
    if score.small:
        lines.append(f"- {count(score.small, 'squad')} of this section would still be too small")
    if score.broken:
        lines.append(f"- wishes “rather not with” that could not be kept: {score.broken}")
    if score.missed:
        lines.append(f"- wishes “with” that could not be kept: {score.missed}")
    return lines


_WHY = {
    "too_few": "They are too few for a squad of their own, and no squad has room. Allow a small squad, or a seat with "
    "a reason.",
    "no_split": "With these sizes the numbers do not come out. Allow a small squad, or a seat with a reason.",
}


def _open(squad: Squad, members: Sequence[Student]) -> Open:
    return Open(squad.id, tuple(one.id for one in members))


def _known(wishes: Sequence[StoredWish]) -> list[Wish]:
    return [Wish(one.student_id, one.other_id, one.together) for one in wishes]


def _sizes(plan: Plan) -> tuple[int, int]:
    return plan.squads.smallest, plan.squads.largest


def _buttons(shown: Shown, students: Mapping[int, Student], page: int) -> tuple[tuple[Row, ...], str]:
    choices = [choice(seat.student_id, students[seat.student_id].name) for seat in shown.seats]
    turn = partial(key, ClassKey.PROPOSAL)
    listed = list_page(choices, page, "Propose something else for", key(ClassKey.PROPOSAL_STUDENT), turn)
    accept = Button(key=key(ClassKey.PROPOSAL_ACCEPTED, shown.stamp), label="Accept: students may answer", style="main")
    everybody = Button(key=key(ClassKey.PROPOSAL_ALL, shown.stamp), label="Seat all who have not answered")
    again = LOOK.model_copy(update={"label": "Look again", "style": "plain"})
    drop = Button(key=key(ClassKey.PROPOSAL_DROPPED, shown.stamp), label="Drop it", style="danger")
    first = (everybody if shown.made.accepted_at else accept,)
    return (*listed.rows, (*((*first, again, drop) if shown.seats else (SQUADS, again)), PEOPLE, BACK)), listed.line


def places(
    plan: Plan,
    one: Student,
    seat: ProposedSeat,
    rows: Sequence[tuple[Squad, Sequence[Student]]],
    groups: Mapping[int, Sequence[Student]],
    fresh: int,
    page: int,
) -> Message:
    """Where else a student could go."""
    choices = [
        choice(
            f"squad-{squad.id}",
            squad.name,
            f"{len(members)} of {plan.squads.largest}",
            chosen=squad.id == seat.squad_id,
        )
        for squad, members in could_go_to(one, rows, plan.squads.largest)
    ]
    choices += [
        choice(
            f"new-{number}",
            new_squad_name(number),
            ", ".join(other.name for other in group),
            chosen=number == seat.new_squad,
        )
        for number, group in sorted(groups.items())
    ]
    choices.append(choice(f"new-{fresh}", new_squad_name(fresh), "a further one"))
    choices.append(choice("none-", "No place for now"))
    turn = partial(key, ClassKey.PROPOSAL_STUDENT, one.id)
    listed = list_page(choices, page, "Pick a squad", key(ClassKey.PROPOSAL_CHANGED, one.id), turn)
    return Message(
        text=f"Which squad do you propose for **{escape(one.name)}**?{listed.line}",
        rows=(*listed.rows, (THE_PROPOSAL, BACK)),
    )


CHANGED = "**This proposal has changed after you opened it.** Nothing is done yet. Please look at it again."
"""Somebody presses what stood below another proposal, or the same one before it was changed or accepted."""


def accepted(asked: int) -> str:
    """Students read it now."""
    if not asked:
        return "Nobody needs to be asked: none of them has an account."
    return f"I have asked {count(asked, 'student')} to press **My squad**. You see their answers here."


def places_gone(left: Sequence[Student]) -> str:
    """Who could not be seated, because the squad has filled up or is gone since."""
    if not left:
        return ""
    names = listing([escape(one.name) for one in left])
    return f"The proposed squad of {names} is full or gone by now. Press **Look again**, or place them yourself."


@posted(Sign.SIGN_UP)
def look_at_it() -> Message:
    """Posted beside the sign-up message; names nobody."""
    mine = MY_SQUAD.model_copy(update={"style": "main"})
    return Message(
        text="Are you still without a squad? Your coach may have a proposal for you. Press **My squad** to read it and "
        "to say yes or no. If you do not answer, your coach may choose for you.",
        rows=((mine,),),
    )


def too_few(number: int, willing: Sequence[Student]) -> Message:
    """Told in the office: too few agree for a squad of their own."""
    names = listing([escape(one.name) for one in willing])
    return Message(
        text=f"For new squad {number} only {count(len(willing), 'student')} agreed: {names}. That is too few. Look for "
        "squads again, or place them yourself.",
        rows=((THE_PROPOSAL,),),
    )
