"""On what size of paper a school prints: everything that is printed asks here."""

from typing import Literal

from storage.records.plan import Plan

LETTER_ZONES = ("America/", "US/", "Canada/")
"""How the names of time zones begin where paper is `letter` (common practice, no source)."""


def paper_size(plan: Plan) -> Literal["letter", "a4"]:
    """The paper a school of this zone is likely to have: `letter` in the Americas, else `a4`."""
    return "letter" if plan.zone.startswith(LETTER_ZONES) else "a4"
