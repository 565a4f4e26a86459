"""What takes the place of what was erased; the words say how it reads."""

from typing import NamedTuple


class ErasedLabels(NamedTuple):
    """What people read in the place of an erased name; `%d` in those of people and squads stands for the number."""

    name: str
    """In a text that somebody wrote, where the name was no shorter; and in the place of a whole message of ours."""
    student: str
    squad: str
    judge: str
