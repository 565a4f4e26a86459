"""The code with which a student links an account."""

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from bot.words.core.plain_text import escape
from storage.records.message import Button, Form, Message, TextField
from storage.records.people import Squad, Student

MINE = Button(key=key(ActionKey.SQUAD_MINE), label="My squad")
REFUSALS = {
    Reason.NO_SUCH_LINK: "That code fits nobody, or it has been used. It has eight letters; ask your coach to read it "
    "out again.",
}


def code(one: Student, made: str) -> Message:
    """The code, for the coach to hand over."""
    students = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")
    return Message(
        text=f"The code of **{escape(one.name)}**: **{made}**\nHand it to the student alone. Beside the "
        "sign-up message the student presses **My squad**, then **I have a code from my coach**. It works once.",
        rows=((students, BACK),),
    )


def code_form() -> Form:
    """Type the code."""
    field = TextField(key="code", label="Your code", hint="Eight letters. Your coach has it.", least=8, most=16)
    return Form(key=key(ClassKey.LINKED), title="I have a code from my coach", fields=(field,))


def linked(one: Student, squad: Squad | None) -> Message:
    """The account belongs to the student now."""
    where = f" You are in **{escape(squad.name)}**; its room opens to you in a moment." if squad else ""
    return Message(text=f"Welcome, **{escape(one.name)}**.{where}", rows=((MINE,),))
