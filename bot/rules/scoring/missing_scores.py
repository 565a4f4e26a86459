"""What is missing before everybody can be ranked: what is filled at the table, and which judges owe sheets."""

from collections import Counter
from collections.abc import Mapping

from bot.rules.scoring.standings_records import Standings

ATTEMPTS = ("no_attempt", "too_few_attempts")
"""Gaps that are filled at the table."""


def owing_judges(standings: Standings, numbers: Mapping[int, int]) -> list[tuple[int, int]]:
    """Number of each judge who owes a sheet that a squad waits for, with how many, in order of the numbers.

    `numbers` are those of the judges, by id.
    """
    owed: Counter[int] = Counter()
    for _, gap in standings.gaps:
        if gap.kind == "open_sheet" and gap.judge_id is not None and gap.judge_id in numbers:
            owed[numbers[gap.judge_id]] += 1
    return sorted(owed.items())
