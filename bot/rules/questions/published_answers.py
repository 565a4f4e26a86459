"""The published answers about the rules: in which order they are read and picked from."""

from collections.abc import Sequence

from storage.records.questions import Clarification


def oldest_first(answers: Sequence[Clarification]) -> list[Clarification]:
    """Answers as everybody reads them, in the pinned list and under All answers: by number."""
    return sorted(answers, key=lambda one: one.number)


def newest_first(answers: Sequence[Clarification]) -> list[Clarification]:
    """Answers as the coach picks one to correct or to use again."""
    return list(reversed(oldest_first(answers)))
