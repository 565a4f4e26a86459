"""A squad that is too small may be so, or gets time to find members: the forms, and what squad and coach are told."""

from collections.abc import Sequence
from datetime import date, datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from bot.rules.squads.small_squads import PROPOSED
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import day_text, full
from bot.words.core.typed_reason import REASON
from bot.words.squads.take_squad_out import take_out_button
from storage.records.message import Button, Form, Message, SelectField, TextField
from storage.records.people import Squad

WAIT = "Wait for more members"
REFUSALS = {
    Reason.SQUAD_IS_NOT_SMALL: "**{squad}** is large enough; nothing has to be allowed.",
    Reason.GRACE_DAY: "Pick a school day from the list; the days on it may have changed. Press **Wait for more "
    "members** again.",
}


def wait_button(squad: Squad) -> Button:
    """Leads to until when the coach waits."""
    return Button(key=key(ClassKey.GRACE_ASK, squad.id), label=WAIT, style="main")


def grace_form(squad: Squad, days: Sequence[date]) -> Form:
    """Until which school day, and why."""
    choices = tuple(
        choice(day.isoformat(), f"{day_text(day)} ({count(number, 'school day')})", chosen=number == PROPOSED)
        for number, day in enumerate(days, start=1)
    )
    return Form(
        key=key(ClassKey.GRACE_GIVEN, squad.id),
        title=WAIT,
        fields=(
            SelectField(key="until", label="Until the end of", choices=choices),
            TextField(
                key="reason",
                label="Why?",
                hint="Everyone reads it with the result. No names, please.",
                least=SHORTEST_REASON,
                most=LONGEST_REASON,
            ),
        ),
    )


@posted(Sign.SQUAD)
def told(squad: Squad, missing: int, until: datetime) -> Message:
    """Told in the squad's room."""
    return Message(
        text=f"Your squad needs {count(missing, 'more member')}. Your coach waits until {full(until)}. Do you know "
        f"somebody in {escape(squad.section)} who has no squad? Tell your coach. If nobody comes, your coach talks "
        "with you about what is best. Nothing happens by itself."
    )


def still(squad: Squad, members: int, until: datetime) -> Message:
    """Told in the office, before the time is over."""
    return Message(
        text=f"**{escape(squad.name)}** has {count(members, 'member')}, and you wait until {full(until)}. "
        "Then I ask you to decide; until you do, nothing happens to the squad.",
        rows=((_look(squad),),),
    )


def decide_now(squad: Squad, members: int) -> Message:
    """Told in the office, when the time is over."""
    return Message(
        text=f"You have waited for more members of **{escape(squad.name)}**; it has {members}. Please decide: put "
        "somebody in, let it be small, merge it with another squad, or take it out. Nothing happens by itself.",
        rows=((_look(squad), *choices(squad)),),
    )


def choices(squad: Squad) -> tuple[Button, ...]:
    """What can become of a squad that is too small."""
    return (
        Button(key=key(ActionKey.PEOPLE_SMALL, squad.id), label="Let it be small"),
        Button(key=key(ClassKey.MERGE_PICK, 0, squad.id), label="Merge"),
        take_out_button(squad),
    )


def _look(squad: Squad) -> Button:
    return Button(key=key(ClassKey.SQUAD_LOOK, squad.id), label="Look at the squad", style="main")


def small_form(one: Squad) -> Form:
    """The reason why a squad may be small."""
    reason = REASON.model_copy(
        update={"hint": "The squad reads that it may take part. Everyone reads why with the result; no names."}
    )
    return Form(key=key(ActionKey.PEOPLE_SMALLED, one.id), title="Let the squad be small", fields=(reason,))


@posted(Sign.SQUAD)
def may_be_small() -> Message:
    """Told in the room of a squad that may take part though it is small."""
    return Message(text="Good news: your squad may take part as it is.")
