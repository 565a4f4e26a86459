"""The hand-in as the judges of a squad read it: under which names parts stand."""

from collections import Counter
from collections.abc import Sequence

from storage.records.people import Student


def first_names(members: Sequence[Student]) -> dict[int, str]:
    """The first name of each member by id; where two share it, the whole name as it was given."""
    first = {one.id: one.name.split()[0] for one in members}
    often = Counter(first.values())
    return {one.id: first[one.id] if often[first[one.id]] == 1 else one.name for one in members}
