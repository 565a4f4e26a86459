"""Small pieces of plain English, and people's own words made harmless."""

import re
from collections.abc import Sequence

_MARKUP = re.compile(r"([\\*_~`|>#<@\[\]])")


def escape(text: str) -> str:
    """People's words shown as they are: no markup, no mention."""
    return _MARKUP.sub(r"\\\1", text)


def cut(text: str, most: int) -> str:
    """The text, shortened to `most` characters."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def listing(words: Sequence[str], link: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`; or another word before the last."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {link} {words[-1]}"


def count(number: int, one: str, many: str = "") -> str:
    """`1 squad`, `2 squads`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def quoted(text: str) -> str:
    """A message as it will read, set apart from our own words."""
    return "\n".join(f"> {line}" for line in text.split("\n"))
