"""A form that opens with a stored text: when whoever sends it is too late, because somebody has changed the text."""


def is_same(text: str, other: str) -> bool:
    """Whether two texts are the same but for spaces and line breaks."""
    return text.split() == other.split()


def is_overtaken(opened_with: str, stands: str, *, differs: bool) -> bool:
    """Whether sending a form would undo what somebody has changed since it was opened.

    `opened_with` and `stands` are digests of what it opened with and of what stands now; `differs` says whether what
    was typed is something else than what stands.
    """
    return opened_with != stands and differs
