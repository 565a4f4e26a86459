"""Signing up: the pinned message, its forms, and the private answers."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.join_and_link_codes import JOIN_CODE_LETTERS, JOIN_CODE_TYPED
from bot.rules.squads.latecomers import why_not_late
from bot.rules.squads.names import LONGEST_UNITS
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SQUAD
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count, in_words
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from bot.words.plan.squad_size import squad_size
from bot.words.squads.latecomers import LATE
from bot.words.squads.names import NAME_HINT, name_field, section_field
from storage.records.message import Button, Form, Message, Row, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.SIGNUP_CLOSED: "Sign-up is closed and squads are fixed. If something has to change, talk to your coach.",
    Reason.SIGNUP_NOT_OPEN: "Sign-up is not open yet. Your coach will open it; the buttons work then.",
    Reason.UNKNOWN_SECTION: "I do not know that section. Please pick one of these: {sections}.",
    Reason.ALREADY_IN_SQUAD: "You are in **{squad}** already. Leave it first (button **My squad**), then try again.",
    Reason.SQUAD_GONE: "That squad is no longer there. Press **Join a squad** to see the squads that are.",
    Reason.OTHER_SECTION: "**{squad}** is for section {section}. Pick a squad of your own section, or start one.",
    Reason.SQUAD_FULL: "**{squad}** is full: {most} is the most. Pick another squad, start one, "
    "or press **I need a squad**.",
    Reason.NO_SUCH_CODE: f"No squad has that join code. It has {in_words(JOIN_CODE_LETTERS)} letters; ask the captain "
    "to read it out again.",
    Reason.WHO_ARE_YOU: "I do not know you yet. Press **Join a squad** and tell me your name and section first.",
}


JOIN = Button(key=key(ActionKey.SQUAD_LIST), label="Join a squad")
START = Button(key=key(ActionKey.SQUAD_START), label="Start a squad")
NEED = Button(key=key(ActionKey.SQUAD_LOOKING), label="I need a squad")
LEAD_ON: Mapping[Reason, tuple[Row, ...]] = {
    **dict.fromkeys((Reason.SQUAD_FULL, Reason.SQUAD_GONE, Reason.OTHER_SECTION), ((JOIN, START, NEED),)),
    Reason.WHO_ARE_YOU: ((JOIN, START, NEED),),
    Reason.NO_SUCH_CODE: ((Button(key=key(ActionKey.SQUAD_CODE), label="Type the code again", style="main"), JOIN),),
    Reason.ALREADY_IN_SQUAD: ((MY_SQUAD.model_copy(update={"style": "main"}),),),
    Reason.SIGNUP_CLOSED: ((MY_SQUAD, LATE),),
}
"""Where these refusals lead."""


@posted(Sign.SIGN_UP)
def sign_up_panel(tryout: Tryout, closes: datetime, open_now: bool) -> Message:
    """The pinned message with which everything begins."""
    plan = tryout.plan
    size = squad_size(plan)
    if not open_now:
        mine = MY_SQUAD.model_copy(update={"style": "main"})
        text = f"**{escape(plan.name)}**\nSign-up is closed. Press **My squad** to see your squad and what to do.\n"
        if why_not_late(tryout.state) is not None:
            return Message(text=f"{text}Not in a squad? Talk to your coach.", rows=((mine,),))
        late = "Not in a squad? Press **I came late**, and your coach will know."
        return Message(text=text + late, rows=((mine, LATE),))
    text = (
        f"**{escape(plan.name)}: sign up here**\n"
        f"Make a squad of {size} from your own section. Sign-up closes {full(closes)}.\n"
        f"Press a button. {who_reads('answer', 'the answer')}\n"
        f"-# {who_reads('board', 'your name, section and squad')} I keep them, and what you hand in and ask, until "
        f"{count(plan.retention_days, 'day')} after the result. Points stay, without names. Your coach can erase your "
        "name earlier."
    )
    return Message(
        text=text,
        rows=((START.model_copy(update={"style": "main"}), JOIN), (NEED, MY_SQUAD)),
    )


def start_form(plan: Plan, name: str, section: str) -> Form:
    """Start a squad: who you are and what it is called."""
    squad = TextField(key="squad", label="Name of your squad", hint=NAME_HINT, most=LONGEST_UNITS)
    return Form(
        key=key(ActionKey.SQUAD_FOUND),
        title="Start a squad",
        fields=(squad, name_field(name), section_field(plan, section)),
    )


def start_form_of_list() -> Form:
    """Start a squad where the class list says who everybody is."""
    squad = TextField(key="squad", label="Name of your squad", hint=NAME_HINT, most=LONGEST_UNITS)
    return Form(key=key(ActionKey.SQUAD_FOUND), title="Start a squad", fields=(squad,))


def who_form(plan: Plan, name: str, then: str) -> Form:
    """Tell me who you are, before joining (`then` = list) or looking (`then` = look)."""
    title = "Join a squad" if then == "list" else "I need a squad"
    return Form(
        key=key(ActionKey.STUDENT_ENTER, then),
        title=title,
        fields=(name_field(name), section_field(plan)),
    )


def code_form(name: str, typed: bool = True) -> Form:
    """Join with a code that the captain read out; the name is typed too, unless the class list has it."""
    hint = f"{in_words(JOIN_CODE_LETTERS).capitalize()} letters. Your captain has it."
    code = TextField(key="code", label="Join code", hint=hint, least=JOIN_CODE_LETTERS, most=JOIN_CODE_TYPED)
    return Form(
        key=key(ActionKey.SQUAD_JOIN_BY_CODE),
        title="Join with a code",
        fields=(code, *((name_field(name),) if typed else ())),
    )


def open_squads(plan: Plan, section: str, squads: Sequence[tuple[Squad, int]], page: int) -> Message:
    """The squads of a section that have a free seat (with how many), a page of 25 at a time."""
    code = Button(key=key(ActionKey.SQUAD_CODE), label="Type a join code")
    start, look = START, NEED
    if not squads:
        start = START.model_copy(update={"style": "main"})
        text = f"No squad in section {escape(section)} has a free seat right now."
        return Message(text=text, rows=((start, look, code),))
    choices = [choice(squad.id, squad.name, count(free, "free seat")) for squad, free in squads]
    turn = partial(key, ActionKey.SQUAD_PAGE)
    listed = list_page(choices, page, "Pick your squad", key(ActionKey.SQUAD_JOIN), turn)
    return Message(
        text=f"Squads in section {escape(section)} with a free seat:{listed.line}",
        rows=(*listed.select, (*listed.turns, code, start, look)),
    )


def founded(plan: Plan, squad: Squad, closes: datetime) -> Message:
    """The squad is there; how friends get in, and until when."""
    more = plan.squads.smallest - 1
    need = f" You need at least {more} more before sign-up closes: {full(closes)}." if more > 0 else ""
    return Message(
        text=f"**{escape(squad.name)}** is on the board and you are its captain.{need}\n"
        f"Your friends press **Join a squad**, then **Type a join code**.\nYour join code: **{squad.join_code}**\n"
        "Your squad gets a room of its own in a moment. **My squad** has the link to it.",
        rows=((MY_SQUAD,),),
    )


def joined(plan: Plan, squad: Squad, members: int) -> Message:
    """You are in."""
    missing = plan.squads.smallest - members
    need = f" The squad needs {missing} more to take part." if missing > 0 else ""
    where = (
        f"Your squad's room: <#{squad.room_id}>" if squad.room_id else "**My squad** has the link to your squad's room."
    )
    return Message(
        text=f"You are in **{escape(squad.name)}**.{need}\n{where}",
        rows=((MY_SQUAD,),),
    )


def looking(student: Student) -> Message:
    """You are on, or off, the list of students who look for a squad."""
    if student.looking:
        return Message(
            text=f"You are on the list of students in section {escape(student.section)} who need a squad. The board "
            "shows only how many there are. Coaches know who. A captain can give you a join code, and your coach can "
            "propose a squad to you: press **My squad** now and then.",
            rows=(
                (
                    Button(key=key(ClassKey.WISHES), label="Who I want to be with", style="main"),
                    Button(key=key(ActionKey.SQUAD_LOOK_NO_MORE), label="I don't need a squad any more"),
                ),
            ),
        )
    return Message(text="You are no longer on the list of those who need a squad.", rows=((NEED,),))
