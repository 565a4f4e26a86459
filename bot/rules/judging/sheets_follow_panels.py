"""Sheets are brought in line with who should see whom: who that is, and what becomes of each sheet."""

from collections.abc import Collection, Iterable
from typing import Literal

from bot.rules.judging.connectedness import Seen
from storage.records.score_sheets import Sheet


def wanted(
    squads: Iterable[int], judges: Collection[int], shared_out: Iterable[Seen] | None, tied: Collection[Seen]
) -> set[Seen]:
    """Who should see whom: as the panel was `shared_out`, else (None) every judge every squad; nobody where tied."""
    every = {(squad, judge) for squad in squads for judge in judges} if shared_out is None else set(shared_out)
    return every - set(tied)


def wanted_no_more(sheet: Sheet, tied: bool) -> Literal["set aside", "taken back", "stays"]:
    """What becomes of a sheet that its judge should not have.

    Where the judge is tied it is set aside with all that stands in it, else it is taken back while it is untouched;
    what has been begun by a judge without a tie stays.
    """
    if tied:
        return "stays" if sheet.state == "recused" else "set aside"
    return "taken back" if sheet.version == 0 else "stays"
