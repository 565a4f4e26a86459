"""A student's chat account: linked, or let go of."""

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.keys import key
from bot.words.core.plain_text import escape
from bot.words.office.helpers import PEOPLE
from storage.records.message import Button, Message
from storage.records.people import Student

STUDENTS = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")

REFUSALS = {
    Reason.ACCOUNT_IN_USE: "That account is **{name}** already.",
    Reason.HAS_ACCOUNT: "**{name}** has an account already. If it is somebody else's, let it go first.",
    Reason.NO_ACCOUNT: "**{name}** has no account here.",
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
