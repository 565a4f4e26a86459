"""What somebody had written where nothing was kept of it: what of it is worth giving back, and how much."""

SHORTEST = 20
"""Characters of a sentence that is worth giving back; a name or a number is typed again at once."""
LONG = 40
"""Characters of a line that is worth giving back also where it has no spaces, as some languages have none."""
MOST = 5
"""Fields of a form."""


def is_worth_it(typed: str) -> bool:
    """Whether what was typed is given back: a sentence or a long line."""
    return (len(typed) >= SHORTEST and typed.count(" ") > 1) or any(len(line) >= LONG for line in typed.splitlines())
