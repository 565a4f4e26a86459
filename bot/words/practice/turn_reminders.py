"""What a squad reads as a reminder of its turn at the practice table."""

from datetime import datetime

from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock, full
from bot.words.practice.booking import GIVE
from storage.records.message import Message


@posted(Sign.PRACTICE)
def reminder(begin: datetime, last: datetime | None) -> Message:
    """Your turn is near; `last` is until when it may be given back, None when that is past."""
    text = f"**Your turn at the practice table** is {full(begin)}."
    if last is None:
        return Message(text=text)
    return Message(text=f"{text} Can't come? Give it back by {clock(last)}.", rows=((GIVE,),))
