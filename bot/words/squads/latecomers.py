"""Who came after sign-up had closed: the form, and what the coach is told."""

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SQUAD
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.squads.names import name_field, section_field
from storage.records.message import Button, Form, Message
from storage.records.people import Student
from storage.records.plan import Plan

LATE = Button(key=key(ActionKey.STUDENT_LATE), label="I came late")
REFUSALS = {
    Reason.LATE_TOO_EARLY: "You are not late: sign-up is still open. Press **Start a squad** or **Join a squad**.",
    Reason.LATE_OVER: "You are not in a squad, and this try-out is nearly over, so I cannot sign you up. "
    "Please talk to your coach.",
}


def late_form(plan: Plan, name: str) -> Form:
    """Who came late: name and section."""
    return Form(
        key=key(ActionKey.STUDENT_CAME_LATE),
        title=LATE.label,
        fields=(name_field(name), section_field(plan)),
    )


def told_coach(one: Student) -> Message:
    """The coach knows of a student who came late."""
    return Message(
        text=f"Thank you, {escape(one.name)}. I have told your coach that you came late and have no squad yet. "
        "Your coach can put you in one. You will then find it under **My squad**.",
        rows=((MY_SQUAD,),),
    )


def late_student(one: Student) -> Message:
    """Told in the office: somebody came after sign-up had closed."""
    place = Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Place in a squad", style="main")
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} came late and has no squad.", rows=((place,),)
    )
