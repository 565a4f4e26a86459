"""Long texts on as many pages as they need: where they are cut, the buttons that turn them, which page this is."""

from collections.abc import Callable, Sequence
from typing import Literal

from bot.words.core.action_keys import AnyKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut
from storage.records.message import MESSAGE_LENGTH, Button

ROOM_FOR_PAGE_LINE = 24
LONGEST_HEAD = 160
_LINE_END = "\n"


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
        for part in split_line(line, length):
            joined = f"{pieces[-1]}\n{part}" if pieces[-1] else part
            if len(joined) <= length:
                pieces[-1] = joined
            else:
                pieces.append(part)
    return pieces


def split_line(line: str, length: int) -> list[str]:
    """A line in parts that fit, each cut behind a space where its second half has one."""
    parts = []
    while len(line) > length:
        end = line.rfind(" ", length // 2, length) + 1 or length
        parts.append(line[:end])
        line = line[end:]
    return [*parts, line]
