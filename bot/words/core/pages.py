"""Long texts: on as many pages as they need, or in one message with the whole of it as a file."""

import re
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Literal

from bot.words.core.action_keys import AnyKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, unescaped
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message, Row

ROOM_FOR_PAGE_LINE = 24
LONGEST_HEAD = 160
_LINE_END = "\n"
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
    line_end = text.rfind(_LINE_END, room // 2, room)
    begins = text[:line_end] if line_end > 0 else _split(text, room)[0]
    data = _INSTANT.sub(_in_utc, unescaped(text + foot)).encode()
    return Message(
        text=begins + GOES_ON + foot, rows=tuple(rows), files=(*files, Attachment(name=WHOLE_TEXT, data=data))
    )


def _in_utc(found: re.Match[str]) -> str:
    return f"{datetime.fromtimestamp(int(found[1]), UTC):%Y-%m-%d %H:%M} UTC"


def pages(blocks: Sequence[str], length: int = MESSAGE_LENGTH, between: str = "\n\n") -> list[str]:
    """The blocks of a text on pages of at most `length` characters; a block is cut only where it fills a page."""
    found = [""]
    for block in blocks:
        for piece in _cut(block, length):
            joined = f"{found[-1]}{between}{piece}" if found[-1] else piece
            if len(joined) <= length:
                found[-1] = joined
            else:
                found.append(piece)
    return found


def grouped_pages(groups: Sequence[Sequence[str]], length: int = MESSAGE_LENGTH) -> list[str]:
    """Groups of parts on pages of at most `length` characters.

    A group that fits on one page stands on one page. Of a longer one no part is cut, unless it fills a page alone;
    its further pages begin with its first line once more.
    """
    found = [""]
    for group in groups:
        whole = "\n".join(group)
        fits = not found[-1] or len(found[-1]) + 2 + len(whole) <= length
        if fits and len(whole) <= length:
            found[-1] = f"{found[-1]}\n\n{whole}" if found[-1] else whole
            continue
        again = f"{cut(group[0].partition(_LINE_END)[0], LONGEST_HEAD)} (goes on)\n"
        first, *further = pages(group, length - len(again), "\n") if len(whole) > length else [whole]
        found = [*(page for page in found if page), first, *(again + page for page in further)]
    return found


def fitting(lines: Sequence[str], room: int, rest: str = "- and {more} more") -> list[str]:
    """As many of the lines as fit into so many characters; `rest` says how many more there are, and where."""
    for number in range(len(lines)):
        if sum(len(line) + 1 for line in lines[: number + 1]) > room:
            return [*lines[:number], rest.format(more=len(lines) - number)]
    return list(lines)


def turning(action: AnyKey, page: int, of: int, *about: object, main: bool = False) -> tuple[Button, ...]:
    """The buttons that turn the pages of a message; none when there is one page only, and none past an end.

    `main` where reading on is the next thing to do.
    """
    return turns(page, of, lambda number: key(action, number, *about), main)


def turns(page: int, of: int, key_of: Callable[[int], str], main: bool = False) -> tuple[Button, ...]:
    """The same, where the page does not stand first in the key: `key_of` gives the key of a page."""
    style: Literal["main", "plain"] = "main" if main else "plain"
    back = [Button(key=key_of(page - 1), label=f"Back to page {page}")] if page > 0 else []
    onward = [Button(key=key_of(page + 1), label=f"Next page {page + 2} of {of}", style=style)] if page < of - 1 else []
    return (*back, *onward)


def page_line(page: int, of: int) -> str:
    """Which page this is; empty when there is one page only."""
    return f"\n-# page {page + 1} of {of}" if of > 1 else ""


def within(page: int, of: int) -> int:
    """The page itself, or the nearest that there is."""
    return min(max(page, 0), of - 1)


def _cut(block: str, length: int) -> list[str]:
    """A block in pieces that fit, cut between lines, and inside a line only where that alone is too long."""
    pieces = [""]
    for line in block.split("\n"):
        for part in _split(line, length):
            joined = f"{pieces[-1]}\n{part}" if pieces[-1] else part
            if len(joined) <= length:
                pieces[-1] = joined
            else:
                pieces.append(part)
    return pieces


def _split(line: str, length: int) -> list[str]:
    """A line in parts that fit, each cut behind a space where its second half has one."""
    parts = []
    while len(line) > length:
        end = line.rfind(" ", length // 2, length) + 1 or length
        parts.append(line[:end])
        line = line[end:]
    return [*parts, line]
