"""The announcement at a time of day: the time, what is planned, and why it did not go out by itself."""

from datetime import datetime

from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS
from bot.words.core.custom_ids import key
from bot.words.core.times import full
from storage.records.message import Button, Form, Message, TextField

AT_A_TIME = "Announce at a time"


def time_form(stamp: str) -> Form:
    """At what time of day it is said."""
    field = TextField(
        key="time", label="Time of day", hint="24 hours, such as 15:20. Today, or tomorrow if that is past.", most=10
    )
    return Form(key=key(ActionKey.RESULTS_PLANNED, stamp), title=AT_A_TIME, fields=(field,))


def planned(at: datetime, quiet: bool) -> Message:
    """It is said by itself, unless something changes before; in `quiet` hours students should be asleep."""
    asleep = "\n**That is in the quiet hours**, in which I remind nobody. Better take a time when everyone is awake."
    return Message(
        text=f"The result is announced {full(at)}, exactly as you have seen it. If a score or the plan changes before, "
        f"nothing is said, and the office reads so.{asleep if quiet else ''}",
        rows=(
            (
                Button(key=key(ActionKey.RESULTS_NOT_PLANNED), label="Do not announce it", style="danger"),
                STANDINGS,
            ),
        ),
    )


def dropped() -> Message:
    """Nothing is announced by itself."""
    return Message(
        text="Nothing is announced by itself now.",
        rows=((STANDINGS,),),
    )


def not_announced(late: bool) -> Message:
    """The office reads that the planned announcement was not made."""
    why = (
        "I was off at its time, and late it may surprise people"
        if late
        else "a score, the plan or a decision has changed since you looked, or something is missing"
    )
    return Message(
        text=f"**The result was not announced**: {why}. Look at it, then announce it yourself.",
        rows=((Button(key=key(ActionKey.RESULTS_PANEL), label="Standings", style="main"),),),
    )
