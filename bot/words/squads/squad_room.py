"""What is said in a squad's private room whoever sees to it: the welcome, who came, who went."""

from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.who_reads import who_reads
from bot.words.plan.squad_size import members_text
from storage.records.message import Message
from storage.records.people import Squad, Student
from storage.records.plan import Plan


@posted(Sign.SQUAD)
def welcome_to_room(plan: Plan, squad: Squad) -> Message:
    """The first message in a squad's private room."""
    return Message(
        text=f"This is the room of **{escape(squad.name)}**. {who_reads('squad-room', 'it')}\n"
        f"I post reminders for your squad here. Squads have {members_text(plan)}; "
        f"the join code is **{squad.join_code}**."
    )


@posted(Sign.SQUAD)
def came(name: str) -> Message:
    """Told in the squad's room."""
    return Message(text=f"{escape(name)} has joined the squad.")


@posted(Sign.SQUAD)
def went(name: str, captain: Student | None) -> Message:
    """Told in the squad's room; a new captain is named."""
    lead = f" {escape(captain.name)} is captain now." if captain else ""
    return Message(text=f"{escape(name)} has left the squad.{lead}")
