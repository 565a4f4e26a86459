"""Which chat account is which student: linked by a code from the coach, let go of when it was somebody else."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.join_and_link_codes import LINK_CODE_LETTERS, LINK_CODE_TYPED
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, MY_SQUAD, PEOPLE, STUDENTS
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import in_words
from bot.words.core.plain_text import escape
from storage.records.message import Button, Form, Message, TextField
from storage.records.people import Squad, Student

CODE = Button(key=key(ClassKey.LINK_ASK), label="I have a code from my coach")
REFUSALS = {
    Reason.ACCOUNT_IN_USE: "That account is **{name}** already.",
    Reason.HAS_ACCOUNT: "**{name}** has an account already. If it is somebody else's, let it go first.",
    Reason.NO_ACCOUNT: "**{name}** has no account here.",
    Reason.NO_SUCH_LINK: "That code fits nobody, or it has been used. It has "
    f"{in_words(LINK_CODE_LETTERS)} letters; ask your coach to read it out again.",
}


def sure_to_let_go(one: Student) -> Message:
    """Ask once before a student's account is let go."""
    yes = Button(key=key(ActionKey.PEOPLE_LET_GONE, one.id), label="Yes, let it go", style="danger")
    return Message(
        text=f"**Let go of the account of {escape(one.name)}?** Do that when it was somebody else's. Name, squad and "
        "what was handed in stay with the student; the account can no longer see the squad's room.",
        rows=((yes, STUDENTS),),
    )


def let_go(one: Student) -> Message:
    """The student has no account any more."""
    return Message(
        text=f"**{escape(one.name)}** has no account any more. You act for this student until the right account is "
        "linked.",
        rows=((STUDENTS, PEOPLE, BACK),),
    )


def code(one: Student, made: str) -> Message:
    """The code, for the coach to hand over."""
    return Message(
        text=f"The code of **{escape(one.name)}**: **{made}**\nHand it to the student alone. Beside the "
        "sign-up message the student presses **My squad**, then **I have a code from my coach**. It works once.",
        rows=((STUDENTS, BACK),),
    )


def code_form() -> Form:
    """Type the code."""
    hint = f"{in_words(LINK_CODE_LETTERS).capitalize()} letters. Your coach has it."
    field = TextField(key="code", label="Your code", hint=hint, least=LINK_CODE_LETTERS, most=LINK_CODE_TYPED)
    return Form(key=key(ClassKey.LINKED), title=CODE.label, fields=(field,))


def linked(one: Student, squad: Squad | None) -> Message:
    """The account belongs to the student now."""
    where = f" You are in **{escape(squad.name)}**; its room opens to you in a moment." if squad else ""
    return Message(text=f"Welcome, **{escape(one.name)}**.{where}", rows=((MY_SQUAD,),))
