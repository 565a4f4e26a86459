"""Until judging is closed nobody sees marks, points or an order: only who owes what."""

from storage.records.tryout import State

OPEN_STATES: frozenset[State] = frozenset(("settled", "announced", "archived"))


def sealed(state: State) -> bool:
    """Whether marks, points and the order are still hidden from everybody, coaches included."""
    return state not in OPEN_STATES
