"""The invitation to judge, in the news, and what is said to who accepts or declines it or is asked again."""

from collections.abc import Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import JUDGES
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.judging.judges_overview import HOME, who
from bot.words.judging.my_sheets import SECRET
from storage.records.message import Button, Message
from storage.records.people import Judge
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.JUDGE_IS_READY: "{judge} has pressed **Start judging** already.",
}


@posted(Sign.JUDGING)
def invitation(tryout: Tryout, schedule: Schedule, judges: Sequence[Judge]) -> Message:
    """Asks people, in the open, to judge; pressing the button is their consent to direct messages."""
    names = listing([f"<@{judge.platform_id}>" for judge in judges])
    return Message(
        text=f"{names}: you are asked to be a judge of **{escape(tryout.plan.name)}**. Thank you!\n"
        f"Judges mark from {full(schedule.deadline)} to {full(schedule.judging_closes)}.\n"
        "Press **Start judging**. I then send you your score sheets as a private message, and reminders while some "
        "are open.\n"
        f"{SECRET}",
        rows=(
            (
                Button(key=key(ActionKey.SHEETS_START), label="Start judging", style="main"),
                Button(key=key(ActionKey.SHEETS_DECLINE), label="Sorry, I can't"),
            ),
        ),
        ping=tuple(judge.platform_id for judge in judges),
    )


def declined() -> Message:
    """The judge cannot judge; a way back."""
    return Message(
        text="Thank you for telling me. Your coach knows that you cannot judge.\n"
        "Changed your mind? Press **Start judging**.",
        rows=((Button(key=key(ActionKey.SHEETS_START), label="Start judging"),),),
    )


def told_declined(judge: Judge) -> Message:
    """Told in the office: a judge who was asked cannot judge."""
    remove = Button(key=key(ActionKey.JUDGES_REMOVE, judge.id), label="Take off the judges", style="main")
    return Message(
        text=f"**{escape(judge.name)}** cannot be a judge. Until you take this judge off the list, sheets may still be "
        "given to them.",
        rows=((remove, JUDGES),),
    )


def welcome() -> Message:
    """The judge is in."""
    return Message(
        text="Thank you! Your list of score sheets is on its way to your private messages.\n"
        "If nothing arrives, press **My sheets**: you can judge from here just as well.",
        rows=((Button(key=key(ActionKey.SHEETS_LIST), label="My sheets", style="main"),),),
    )


def asked_again(judge: Judge) -> Message:
    """The invitation went out once more."""
    return Message(text=f"I have asked {who(judge)} once more in the news room.", rows=((HOME,),))
