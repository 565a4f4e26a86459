"""A student leaves the own squad: asked once, and what follows."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.plain_text import escape
from bot.words.squads.sign_up import JOIN, NEED, START
from storage.records.message import Button, Message, Row
from storage.records.people import Squad, Student


def leave_stamp(squad: Squad, last: bool, captain: Student | None) -> str:
    """What the button to leave carries of what is said above it."""
    return shown_stamp(squad.id, last, captain.id if captain is not None else None)


def sure_to_leave(squad: Squad, last: bool, captain: Student | None, changed: bool = False) -> Message:
    """Ask once before someone leaves; `captain` is who would lead the squad then, if that is somebody else.

    `changed`: something else was said before.
    """
    end = " You are the last member, so the squad would be closed." if last else ""
    end += f" {escape(captain.name)} would be captain then." if captain is not None else ""
    rows: tuple[Row, ...] = (
        (
            Button(
                key=key(ActionKey.SQUAD_LEFT, leave_stamp(squad, last, captain)), label="Yes, leave", style="danger"
            ),
            Button(key=key(ActionKey.SQUAD_KEEP), label="Stay"),
        ),
    )
    begin = "**Something has changed since you looked**, so you have not left.\n" if changed else ""
    return Message(text=f"{begin}Leave **{escape(squad.name)}**?{end}", rows=rows)


def left(squad: Squad) -> Message:
    """You are out."""
    return Message(
        text=f"You have left **{escape(squad.name)}**. You can join or start another squad.",
        rows=((JOIN, START, NEED),),
    )


def left_to_help(squad: Squad, coach: bool) -> Message:
    """Somebody who helps to run the try-out is out, and may do so again."""
    rows = ((BACK,),) if coach else ()
    return Message(text=f"You have left **{escape(squad.name)}**. You can help to run this try-out again.", rows=rows)


def helper_left(one: Student, squad: Squad) -> Message:
    """Told in the office: a seat has become free, after sign-up had closed."""
    return Message(
        text=f"**{escape(one.name)}** has left **{escape(squad.name)}** to help to run this try-out again. If that is "
        "wrong, look at the student under **People**: the move can be undone there."
    )
