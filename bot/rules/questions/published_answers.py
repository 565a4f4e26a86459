"""The published answers about the rules: in which order they are read and picked from, and which a full list keeps."""

from collections.abc import Callable, Sequence

from storage.records.questions import Clarification


def oldest_first(answers: Sequence[Clarification]) -> list[Clarification]:
    """Answers as everybody reads them, in the pinned list and under All answers: by number."""
    return sorted(answers, key=lambda one: one.number)


def newest_first(answers: Sequence[Clarification]) -> list[Clarification]:
    """Answers as the coach picks one to correct or to use again."""
    return list(reversed(oldest_first(answers)))


def newest_that_fit(answers: Sequence[Clarification], room: int, length: Callable[[Clarification], int]) -> int:
    """How many of the newest answers have room on a list of one line each; the earlier ones are left out."""
    for fitting, one in enumerate(newest_first(answers)):
        room -= length(one)
        if room < 0:
            return fitting
    return len(answers)
