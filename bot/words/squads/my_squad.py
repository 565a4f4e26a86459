"""My squad, the student's own page: members, what each has left to do, turns, the room."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.code_names import code_name
from bot.rules.squads.my_squad import has_to_read
from bot.rules.squads.roster_board import missing_or_free, with_names
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, LEAVE, MY_SHEETS, MY_SQUAD, QUESTION, TABLE
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.times import full, school_days_text
from bot.words.hand_in import member_parts
from bot.words.questions.squad_asks import ALL as ANSWERS
from bot.words.questions.squad_asks import ASK
from bot.words.squads import sign_up
from bot.words.squads.captain import marked
from bot.words.squads.exclusive_roles import HELPS
from bot.words.squads.latecomers import LATE
from bot.words.squads.student_accounts import CODE
from storage.records.message import Button, Message, Row
from storage.records.people import Squad, Student
from storage.records.plan import Plan

SHOWN_TURNS = 8
"""So many turns at the practice table, and times of the event day, are listed."""
LOST_ROOM = Button(key=key(ActionKey.SQUAD_ROOM), label="I can't see our room")
OPEN_BRIEF = Button(key=key(ActionKey.BRIEF_OPEN), label="Open the brief")
PLACE = Button(key=key(ClassKey.TEAM_MINE), label="My place in the team", style="main")
TURNS = Button(key=key(ActionKey.PRACTICE_MINE), label="Our turns")


COMES_NEXT = {
    "result": "The result comes in news once every score is in.",
    "read-result": "Your squad's own result is in your squad's room.",
}


READ = "read the brief"
"""What a member still has to do, in words that go on after "still to"."""
REFUSALS = {
    Reason.NOT_IN_SQUAD: "You are not in a squad yet. Press **Start a squad** or **Join a squad**.",
    Reason.NOT_IN_SQUAD_LATE: "You are not in a squad, and sign-up is closed. "
    "Press **I came late**: then your coach knows about you. Were you in a squad before? Talk to your coach.",
    Reason.NOT_IN_SQUAD_KNOWN: "You are not in a squad, and sign-up is closed. Your coach knows, and can still put you "
    "in one: you will find it under **My squad**. You need not do anything. You can always talk to your coach.",
}


@dataclass(frozen=True)
class Doings:
    """What is known about a squad besides its members; what is None does not concern it now."""

    to_read: bool = False
    """The brief is out, and may still be read before the deadline."""
    parts: Mapping[str, frozenset[int]] = field(default_factory=dict)
    """Members (by student id) whose part is in, by the name of the piece, while parts are handed in."""
    parts_to_see: bool = False
    """Parts were, or can be, handed in."""
    turns: tuple[datetime, ...] | None = None
    """The turns at the practice table to come."""
    book: Button | None = None
    """The button for a turn, switched off while there is none."""
    more_turns: str = ""
    """What can be booked, and from when."""
    questions: bool = False
    """Questions about the rules can be asked."""
    day: tuple[datetime, ...] = ()
    """The squad's times on the event day that are still to come, once squads were told."""
    deadline: datetime | None = None
    protest: bool = False
    """A captain can protest against how something was run or added up."""
    place: bool = False
    """A place in the team is offered to this member, or was."""
    alone: int = 0
    """Students of the section without a squad, while squads may change."""
    school_days: int = 0
    """How many are left to the deadline."""
    comes_next: str = ""
    """Once everything is handed in: that the result comes, or where it is; a key of `COMES_NEXT`."""
    helps: bool = False
    """Whether this member could help to run the try-out but for the seat in the squad."""


def my_squad_page(
    plan: Plan, squad: Squad, members: Sequence[Student], me: Student, now: Doings, may_change: bool
) -> Message:
    """The page: what this member has to do comes first among the buttons."""
    lines = [f"**{escape(squad.name)}**, section {escape(squad.section)}"]
    if squad.room_id is not None:
        lines.append(f"Your squad's room: {room(squad)}")
    lines += [f"- {_member(squad, one, now)}" for one in members]
    if not with_names(plan):
        lines.append(f"On the board you are **{code_name(me.id)}**.")
    missing, free = missing_or_free(plan, members)
    if may_change and missing > 0:
        lines.append(f"Your squad needs {missing} more.")
    if may_change and free > 0:
        lines.append(f"Join code: **{squad.join_code}** ({free} free seat{'s' * (free != 1)})")
    if may_change and free > 0 and now.alone:
        lines.append(
            f"{count(now.alone, 'student')} of your section {'has' if now.alone == 1 else 'have'} no squad yet."
        )
    if now.turns is not None:
        booked = [full(begin) for begin in now.turns[:SHOWN_TURNS]]
        more = f", and {len(now.turns) - SHOWN_TURNS} more" if len(now.turns) > SHOWN_TURNS else ""
        lines.append(
            f"Turns at the practice table: {listing(booked) + more if booked else 'none to come'}. {now.more_turns}"
        )
    if now.deadline is not None:
        lines.append(f"Deadline: {full(now.deadline)}, {school_days_text(now.school_days)}")
    if now.day:
        times = listing([full(begin) for begin in now.day[:SHOWN_TURNS]])
        lines.append(f"Your times on the event day: {times}. Your squad's room says what each is.")
    if now.comes_next:
        lines.append(COMES_NEXT[now.comes_next])
    if now.helps:
        lines.append(HELPS)
    changes = _changes(squad, me, len(members)) if may_change else (LEAVE,) if now.helps else ()
    lost = (LOST_ROOM,) if squad.room_id is not None else ()
    rows = (_next_steps(me, now), _reading(now, squad.captain_id == me.id), (*changes, *lost))
    return Message(text="\n".join(line.strip() for line in lines), rows=tuple(row for row in rows if row))


def _member(squad: Squad, one: Student, now: Doings) -> str:
    """A member with what is left to do."""
    name = marked(escape(one.name), one.id, squad)
    left = owes(one, now)
    if left:
        return f"{name}: still to {listing(left)}"
    return f"{name}: all done" if now.to_read or now.parts else name


def owes(one: Student, now: Doings) -> list[str]:
    """What a member still has to do; empty when nothing."""
    brief = now.to_read and has_to_read(one)
    pieces = [f"hand in a part of {escape(piece)}" for piece, there in now.parts.items() if one.id not in there]
    return [*([READ] if brief else []), *pieces]


def _next_steps(me: Student, now: Doings) -> tuple[Button, ...]:
    """What a member does: the first thing still to do is the filled button."""
    left = owes(me, now)
    brief = OPEN_BRIEF.model_copy(update={"style": "main" if READ in left else "plain"})
    missing = [piece for piece, there in now.parts.items() if me.id not in there]
    add = member_parts.ADD.model_copy(update={"style": "main" if missing and len(left) == len(missing) else "plain"})
    if not missing:
        add = add.model_copy(update={"label": "Change my part"})
    book = now.book.model_copy(update={"style": "plain" if left else now.book.style}) if now.book else None
    return (
        *((brief,) if now.to_read else ()),
        *((add,) if now.parts else ()),
        *((book,) if book else ()),
    )


def _reading(now: Doings, captain: bool) -> tuple[Button, ...]:
    return (
        *((PLACE,) if now.place else ()),
        *((TURNS,) if now.turns is not None else ()),
        *((member_parts.SEE,) if now.parts_to_see else ()),
        *((ASK, ANSWERS) if now.questions else ()),
        *((QUESTION,) if captain and now.protest else ()),
    )


def _changes(squad: Squad, me: Student, members: int) -> tuple[Button, ...]:
    """What may be changed while sign-up is open."""
    if squad.captain_id != me.id:
        return (LEAVE,)
    alone = members == 1
    return (
        Button(key=key(ActionKey.SQUAD_RENAME), label="Rename"),
        Button(key=key(ActionKey.SQUAD_CAPTAIN), label="Make someone captain", disabled=alone),
        Button(key=key(ActionKey.SQUAD_REMOVE), label="Remove a member", disabled=alone),
        LEAVE,
    )


_HELPERS: Mapping[str, tuple[str, Button]] = {
    "coach": ("a coach", BACK),
    "judge": ("a judge", MY_SHEETS),
    "scorekeeper": ("a scorekeeper", TABLE),
    "typist": ("a typist", Button(key=key(ActionKey.PAPER_ENTER), label="Paper sheets")),
}


def helpers_page(held: Collection[str]) -> Message:
    """For who helps to run the try-out, by the roles held: the doors to what they do."""
    own = [one for role, one in _HELPERS.items() if role in held]
    # A coach may do what a scorekeeper and a typist may; naming that tells nobody anything.
    told = {"coach", "judge"} if "coach" in held else held
    named = [said for role, (said, _) in _HELPERS.items() if role in held and role in told]
    return Message(
        text=f"You are {listing(named)} of this try-out, so you have no squad. Here is where you work:",
        rows=(tuple(button for _, button in own),),
    )


def room(squad: Squad) -> str:
    """A link to a squad's room; before there is one, what it is."""
    return "your squad's room" if squad.room_id is None else f"<#{squad.room_id}>"


def shown_in_again(squad: Squad) -> Message:
    """Somebody who left the class server and came back is put into the squad's room anew."""
    return Message(
        text=f"I am putting you into your squad's room once more. Look here in a minute: {room(squad)}. "
        "Do you still not see it? Tell your coach.",
        rows=((MY_SQUAD,),),
    )


LEAD_ON: Mapping[Reason, tuple[Row, ...]] = {
    Reason.NOT_IN_SQUAD: ((sign_up.JOIN, sign_up.START, sign_up.NEED),),
    Reason.NOT_IN_SQUAD_LATE: ((LATE.model_copy(update={"style": "main"}), CODE),),
    Reason.NOT_IN_SQUAD_KNOWN: ((MY_SQUAD, CODE),),
}
"""Where these refusals lead."""
