"""Lists in a text: words in a sentence, all or the first few, or lines of which as many stand as there is room for."""

from collections.abc import Sequence


def listing(words: Sequence[str], link: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`; or another word before the last."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {link} {words[-1]}"


def first_few(names: Sequence[str], most: int) -> str:
    """`a, b, c`; of more than `most`, the first ones and how many more there are."""
    more = len(names) - most
    return ", ".join(names[:most]) + (f" and {more} more" if more > 0 else "")


def fitting(lines: Sequence[str], room: int, rest: str = "- and {more} more") -> list[str]:
    """As many of the lines as fit into so many characters; `rest` says how many more there are, and where."""
    for number in range(len(lines)):
        if sum(len(line) + 1 for line in lines[: number + 1]) > room:
            return [*lines[:number], rest.format(more=len(lines) - number)]
    return list(lines)
