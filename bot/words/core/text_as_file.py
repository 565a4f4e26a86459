"""A text too long for one message: it begins in the message, and the whole of it goes along as a file."""

import re
from collections.abc import Sequence
from datetime import UTC, datetime

from bot.words.core.pages import split_line
from bot.words.core.plain_text import unescaped
from storage.records.message import MESSAGE_LENGTH, Attachment, Message, Row

WHOLE_TEXT = "whole-text.txt"
GOES_ON = f"\n**This goes on: the file {WHOLE_TEXT} has all of it.**"
_INSTANT = re.compile(r"<t:(\d+):\w>")


def whole_message(text: str, rows: Sequence[Row] = (), files: Sequence[Attachment] = (), foot: str = "") -> Message:
    """One message with all of a text: what does not fit is in a file that goes with it, and the message says so.

    `foot` stands below the text, whatever its length. In the file nothing is escaped, and instants are in UTC.
    """
    if len(text) + len(foot) <= MESSAGE_LENGTH:
        return Message(text=text + foot, rows=tuple(rows), files=tuple(files))
    room = MESSAGE_LENGTH - len(GOES_ON) - len(foot)
    line_end = text.rfind("\n", room // 2, room)
    begins = text[:line_end] if line_end > 0 else split_line(text, room)[0]
    data = _INSTANT.sub(_in_utc, unescaped(text + foot)).encode()
    return Message(
        text=begins + GOES_ON + foot, rows=tuple(rows), files=(*files, Attachment(name=WHOLE_TEXT, data=data))
    )


def _in_utc(found: re.Match[str]) -> str:
    return f"{datetime.fromtimestamp(int(found[1]), UTC):%Y-%m-%d %H:%M} UTC"
