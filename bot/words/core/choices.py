"""Choices of a list: labels that fit and are harmless, and long lists on pages."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.words.core.pages import page_line, turns, within
from bot.words.core.plain_text import cut, units
from storage.records.message import Button, Choice, Row, Select

LABEL = 100
"""The most characters of a label, and of the note below it."""
PAGE = 25
"""The most choices of a list."""


def choice(value: object, label: str, note: str = "", chosen: bool = False) -> Choice:
    """One entry of a list, with people's words in it: nothing hidden, and shortened where it is too long."""
    return Choice(value=str(value), label=cut(label, LABEL), note=cut(note, LABEL), chosen=chosen)


def part_label(whole: str, part: str) -> str:
    """The label `whole: part`. Where both are too long for it, each keeps half of it, so that parts stay apart."""
    half = (LABEL - len(": ")) // 2
    room = max(half, LABEL - len(": ") - units(cut(part, LABEL)))
    first = cut(whole, room)
    return f"{first}: {cut(part, LABEL - len(': ') - units(first))}"


@dataclass(frozen=True)
class ListPage:
    """One page of a list: the list, none where it is empty; the buttons that turn the page; which page it is."""

    select: tuple[Select, ...] = ()
    turns: tuple[Button, ...] = ()
    line: str = ""

    @property
    def rows(self) -> tuple[Row, ...]:
        """List and buttons, each in a row of its own."""
        return (*self.select, self.turns) if self.turns else self.select


def list_page(
    choices: Sequence[Choice],
    page: int,
    prompt: str,
    pick: str,
    turn: Callable[[int], str],
    *,
    least: int = 1,
    most: int = 1,
) -> ListPage:
    """A list of any length to pick from, with the buttons that turn its pages.

    `pick` is the key of the list, `turn` gives the key that shows another page; of one page `least` to `most` are
    picked.
    """
    if not choices:
        return ListPage()
    of = -(-len(choices) // PAGE)
    page = within(page, of)
    shown = tuple(choices[page * PAGE : (page + 1) * PAGE])
    select = Select(key=pick, prompt=prompt, choices=shown, least=least, most=min(most, len(shown)))
    return ListPage((select,), turns(page, of, turn), page_line(page, of))
