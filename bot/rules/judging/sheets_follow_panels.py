"""Sheets are brought in line with who should see whom: what becomes of each."""

from typing import Literal

from storage.records.judging import Sheet


def wanted_no_more(sheet: Sheet, tied: bool) -> Literal["set aside", "taken back", "stays"]:
    """What becomes of a sheet that its judge should not have.

    Where the judge is tied it is set aside with all that stands in it, else it is taken back while it is untouched;
    what has been begun by a judge without a tie stays.
    """
    if tied:
        return "stays" if sheet.state == "recused" else "set aside"
    return "taken back" if sheet.version == 0 else "stays"
