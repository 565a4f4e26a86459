"""What a captain does with the own squad: another name, another captain, a member who is removed."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST_UNITS
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SQUAD
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.squads.names import NAME_HINT
from storage.records.message import Button, Form, Message, Select, TextField
from storage.records.people import Squad, Student

REFUSALS = {
    Reason.ONLY_CAPTAIN: "Only the captain can do that. Ask your captain, or your coach.",
    Reason.NOT_MEMBER: "That student is no longer in your squad.",
    Reason.CAPTAIN_ALONE: "You are the only one in your squad. Wait until somebody joins; or press **Leave**.",
}


def marked(name: str, student_id: int, squad: Squad | None) -> str:
    """A member's name as it stands in lists, with a mark where this is the captain."""
    return f"{name} (captain)" if squad is not None and student_id == squad.captain_id else name


def rename_form(squad: Squad) -> Form:
    """Another name for the squad."""
    field = TextField(key="squad", label="New name", hint=NAME_HINT, value=squad.name, most=LONGEST_UNITS)
    return Form(key=key(ActionKey.SQUAD_RENAMED), title="Rename your squad", fields=(field,))


def renamed(squad: Squad) -> Message:
    """The new name stands."""
    return Message(text=f"Your squad is now called **{escape(squad.name)}**.", rows=((MY_SQUAD,),))


def pick_captain(members: Sequence[Student]) -> Message:
    """Pick the one of the other members who leads from now on."""
    return _pick_member(ActionKey.SQUAD_CAPTAIN_IS, "Who is the new captain?", members)


def pick_who_goes(members: Sequence[Student]) -> Message:
    """Pick the one of the other members who should leave."""
    return _pick_member(ActionKey.SQUAD_REMOVE_WHO, "Who should leave the squad?", members)


def _pick_member(action: ActionKey, prompt: str, members: Sequence[Student]) -> Message:
    choices = tuple(choice(one.id, one.name) for one in members)
    return Message(text=prompt, rows=(Select(key=key(action), prompt="Pick a member", choices=choices),))


def sure_to_remove(member: Student) -> Message:
    """Ask once before a member is removed."""
    return Message(
        text=f"Remove **{escape(member.name)}** from the squad? They can join another one.",
        rows=(
            (
                Button(key=key(ActionKey.SQUAD_REMOVED, member.id), label="Yes, remove", style="danger"),
                Button(key=key(ActionKey.SQUAD_KEEP), label="Keep"),
            ),
        ),
    )


def removed(member: Student) -> Message:
    """The member is out."""
    return Message(text=f"**{escape(member.name)}** is no longer in your squad.", rows=((MY_SQUAD,),))


@posted(Sign.SQUAD)
def renamed_in_room(name: str) -> Message:
    """Told in the squad's room."""
    return Message(text=f"Your squad is called **{escape(name)}** now.")


@posted(Sign.SQUAD)
def handed_over(captain: Student) -> Message:
    """Someone else leads now."""
    return Message(
        text=f"**{escape(captain.name)}** is captain now.",
        rows=((MY_SQUAD,),),
    )
