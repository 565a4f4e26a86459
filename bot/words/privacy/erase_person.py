"""What is said when one person is erased: asked once, with what goes and what stays, then what has gone."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import PEOPLE
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.privacy.erased_labels import student_label
from storage.records.message import Button, Message

REFUSALS = {
    Reason.KNOWS_NOBODY: "I know nobody by that account in this try-out: there is nothing to erase.",
}


def sure_to_forget(name: str, what: Sequence[str], action: ActionKey, about: int) -> Message:
    """Ask once before a person's name is erased. `what` is what will go and what will stay."""
    lines = "\n".join(f"- {line}" for line in what)
    return Message(
        text=f"**Erase {escape(name)} everywhere?** This cannot be undone.\n{lines}",
        rows=(
            (
                Button(key=key(action, about), label="Yes, erase", style="danger"),
                Button(key=key(ActionKey.PEOPLE_PANEL), label="No, keep"),
            ),
        ),
    )


def student_goes(student_id: int, squad: str) -> str:
    """What happens to a student's name; `squad` is the squad whose seat stays taken, if any."""
    if squad:
        return (
            f"As a student: the name becomes **{student_label(student_id)}**, the seat in **{escape(squad)}** stays "
            "taken, and anything handed in is deleted."
        )
    return "As a student: everything is deleted."


def judge_goes(number: int) -> str:
    """What happens to a judge's name."""
    return (
        f"As a judge: the name becomes **Judge {number}**, the account is let go, comments are deleted; "
        "marks stay and count."
    )


def officer_goes(role: str) -> str:
    """What happens to a helper."""
    return f"As a {role}: the entry is deleted."


def waiting_goes() -> str:
    """What happens to somebody who waits because the name is not on the class list."""
    return "As somebody who waits to be let in: what was typed is deleted."


def recorded_goes() -> str:
    """What happens to what somebody recorded or typed in, also one who helps no more."""
    return "In what was recorded and typed in: the account is let go; what was recorded stays and counts."


KEPT = (
    "Messages and answers in my file that hold the name are erased; it is taken out of what other people wrote. "
    "The log of what was done keeps a pseudonym, never the name. "
    "Messages already in the channels stay until you delete them; backups forget as they are replaced."
)


def forgotten(what: Sequence[str], erased: int) -> Message:
    """What has gone."""
    lines = "\n".join(
        f"- {line}" for line in (*what, f"{count(erased, 'message or answer', 'messages and answers')} erased.")
    )
    return Message(
        text=f"**The name is erased.**\n{lines}\n"
        "Please delete messages in the channels that still show it; backups forget as they are replaced.",
        rows=((PEOPLE,),),
    )
