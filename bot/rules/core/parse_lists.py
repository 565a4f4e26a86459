"""Lists as a coach types them into a form: names, and the criteria of a rubric with their levels."""

import re

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


def read_criteria(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Lines of a rubric such as `One idea: none | some | all`: each a name and its levels, the lowest first.

    Raises Refusal: `typed_criterion` (typed).
    """
    found = []
    for line in filter(None, map(str.strip, text.splitlines())):
        name, colon, rest = line.partition(":")
        levels = tuple(level.strip() for level in rest.split("|"))
        if not (name.strip() and colon and 3 <= len(levels) <= 6 and all(levels)):
            raise Refusal(Reason.TYPED_CRITERION, typed=line if len(line) <= 100 else f"{line[:99]}…")
        found.append((name.strip(), levels))
    return tuple(found)


def read_list(text: str) -> tuple[str, ...]:
    """Names separated by commas, semicolons or line breaks."""
    return tuple(name for part in re.split(r"[,;\n]", text) if (name := " ".join(part.split())))
