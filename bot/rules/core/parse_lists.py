"""Lists of names as a coach types them into a form."""

import re


def read_list(text: str) -> tuple[str, ...]:
    """Names separated by commas, semicolons or line breaks."""
    return tuple(name for part in re.split(r"[,;\n]", text) if (name := " ".join(part.split())))
