"""Lists in a text: a few words in a sentence, or lines of which as many stand as there is room for."""

from collections.abc import Sequence


def listing(words: Sequence[str], link: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`; or another word before the last."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {link} {words[-1]}"


def fitting(lines: Sequence[str], room: int, rest: str = "- and {more} more") -> list[str]:
    """As many of the lines as fit into so many characters; `rest` says how many more there are, and where."""
    for number in range(len(lines)):
        if sum(len(line) + 1 for line in lines[: number + 1]) > room:
            return [*lines[:number], rest.format(more=len(lines) - number)]
    return list(lines)
