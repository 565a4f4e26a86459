"""The brief is released: asked once, what everyone then reads, and what the coach reads where it could not go out."""

from collections.abc import Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.public_plan import PublicPlan
from bot.words.calendar.brief import FILE, OPEN
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, confirm_step
from bot.words.core.changed_meanwhile import PLAN_CHANGED
from bot.words.core.custom_ids import key
from bot.words.core.mentions import called, to_ring
from bot.words.core.plain_text import escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full, school_days_text
from bot.words.core.who_reads import who_reads
from bot.words.plan.public_plan import fingerprints, plan_file
from bot.words.questions.squad_asks import ASK
from storage.records.message import Button, Message
from storage.records.people import Student
from storage.records.plan import Plan

REFUSALS = {
    Reason.SIGNUP_FIRST: "Open sign-up first: /office shows the next step.",
}


def sure_to_release(news: Message, room: Message, known: str, stamp: str, changed: bool = False) -> Message:
    """Ask once before the brief is released by hand, with what should be `known` first.

    `stamp` names the plan that is shown; `changed`: another one was shown before.
    """
    return confirm_step(
        f"{PLAN_CHANGED if changed else ''}**Release the brief now?** The plan is then fixed, and the days to the "
        "deadline run from this minute. "
        f"The class reads, with a button to open the brief:\n{quoted(news.text)}\n"
        f"Each squad's room reads:\n{quoted(room.text)}{known}",
        Button(key=key(ActionKey.BRIEF_RELEASE, stamp), label="Yes, release the brief", style="main"),
    )


def released() -> Message:
    """The brief is out."""
    return Message(text="**The brief is out.** From now on I remind squads of what they still owe.", rows=((BACK,),))


def not_released(missing: str) -> Message:
    """Told in the office when the brief could not go out by itself, and what is missing."""
    return Message(
        text=f"**The brief did not go out**, because something is missing:\n{missing}\n"
        "Mend it, then release the brief yourself: /office."
    )


@posted(Sign.BRIEF)
def in_news(plan: Plan, schedule: Schedule, left: int, public: PublicPlan) -> Message:
    """The message to everyone that the brief is out, with the plan as a file; `left` are the school days."""
    return Message(
        text=f"**{escape(plan.name)}: the brief is out**\n"
        f"Press the button to read what to do, as often as you like. {who_reads('answer', 'the answer')}\n"
        f"{_deadline(schedule, left)}\n"
        f"-# The rules are fixed from now on. {fingerprints(public)}",
        rows=((OPEN, ASK, FILE),),
        files=(plan_file(public),),
    )


@posted(Sign.BRIEF)
def in_room(schedule: Schedule, left: int, members: Sequence[Student] = ()) -> Message:
    """The message in each squad's room that the brief is out; it rings for its `members`.

    `left` are the school days to the deadline. Without members it is what the coach sees beforehand.
    """
    readers = [one for one in members if one.platform_id is not None]
    who = f" {called(readers, True) if members else 'Each of you'}: please open it." if readers or not members else ""
    return Message(
        text=f"**The brief is out.**{who}\n{_deadline(schedule, left)}",
        rows=((OPEN, ASK),),
        ping=to_ring(members),
    )


def _deadline(schedule: Schedule, left: int) -> str:
    return f"The deadline is {full(schedule.deadline)}: {school_days_text(left)}."
