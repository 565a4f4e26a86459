"""How much equipment a squad is given, by how many of its members are here."""

import re

from storage.records.plan import Equipment

_PIECES = re.compile(r"present(?: ?/ ?(?P<by>\d+))?(?: ?(?P<sign>[-+]) ?(?P<more>\d+))?")


def pieces(equipment: Equipment, present: int) -> int:
    """How many pieces a squad is given: `present / d`, rounded up, with what is added or taken off, at least 0."""
    found = _PIECES.fullmatch(equipment.pieces)
    assert found is not None, "the plan holds no other formula"
    shared = -(-present // int(found["by"] or 1))
    more = int(found["more"] or 0)
    return max(0, shared - more if found["sign"] == "-" else shared + more)
