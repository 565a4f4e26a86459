"""Try-outs that are put away and still hold names, as whoever manages the class server reads of them."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.privacy.earlier_tryouts import in_order
from bot.words.core.buttons import BACK
from bot.words.core.choices import PAGE, choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from storage.records.message import Button, Message, Row, Select
from storage.records.tryout import Tryout

EARLIER = Button(key=key(ClassKey.EARLIER), label="Earlier try-outs")

REFUSALS = {
    Reason.EARLIER_GONE: "The names of that try-out are erased already.",
}


def earlier(found: Sequence[tuple[Tryout, datetime]], said: str = "") -> Message:
    """Which they are, and when their names are erased by themselves."""
    if not found:
        return Message(text=f"{said}No earlier try-out here holds names.", rows=((BACK,),))
    found = in_order(found)
    lines = [f"{said}**Earlier try-outs that still hold names**"]
    lines += [f"- {escape(one.plan.name)}: erased {full(at)}" for one, at in found]
    lines.append("One person alone cannot be erased from them any more, but all names of one can, at any time.")
    choices = tuple(choice(one.id, one.plan.name) for one, _ in found[:PAGE])
    rows: tuple[Row, ...] = (
        Select(key=key(ClassKey.EARLIER_ASK), prompt="Erase all names of one now", choices=choices),
        (BACK,),
    )
    return whole_message("\n".join(lines), rows)


def sure(one: Tryout) -> Message:
    """Ask once."""
    return Message(
        text=f"**Erase all names of {escape(one.plan.name)} now?** Names, accounts, texts and photos go; numbers, "
        "marks and totals stay. This cannot be undone. Messages in the channels stay until you delete them; copies in "
        "backups go as those are replaced.",
        rows=((Button(key=key(ClassKey.EARLIER_ERASED, one.id), label="Yes, erase", style="danger"), BACK),),
    )


def erased(one: Tryout, left: Sequence[tuple[Tryout, datetime]]) -> Message:
    """They are gone."""
    return earlier(left, f"The names of **{escape(one.plan.name)}** are erased.\n")
