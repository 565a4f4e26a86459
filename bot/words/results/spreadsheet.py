"""Rosters and standings as a spreadsheet: its tables, and the file."""

import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from bot.rules.results.spreadsheet import squads_in_order, students_in_order
from bot.rules.scoring.standings_records import EventScore, Row
from bot.words.core.buttons import BACK, RECORDS
from bot.words.core.csv_cells import Cell, plain_cell
from bot.words.scoring.result_view import ResultView
from storage.records.message import Attachment, Message, Say
from storage.records.people import Squad, Student

ROSTER, STANDINGS = "Roster", "Standings"
"""What the sheets are called."""
_MOMENT = re.compile(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")


def roster(
    rows: Sequence[tuple[Squad | None, Sequence[Student]]],
    columns: Sequence[str],
    answers: Mapping[int | None, Mapping[str, bool]],
) -> list[list[Cell]]:
    """Every student with squad and section, and the yes/no columns of the class list."""
    head: list[Cell] = ["section", "squad", "name", "captain", "account", *columns]
    found = [head]
    for one, squad in students_in_order(rows):
        said = answers.get(one.id, {})
        found.append(
            [
                one.section,
                squad.name if squad else "",
                one.name,
                "yes" if squad and squad.captain_id == one.id else "",
                "no" if one.platform_id is None else "yes",
                *("yes" if said.get(column) else "no" for column in columns),
            ]
        )
    return found


def standings_rows(result: ResultView) -> list[list[Cell]]:
    """The whole table: one line a squad, with the points and the contribution of every event."""
    head: list[Cell] = ["place", "number", "squad", "section", "total"]
    for event in result.plan.events:
        head += [f"{event.name}: points of 100", f"{event.name}: share of the total", f"{event.name}: state"]
    return [head, *(_row(result, row) for row in squads_in_order(result.standings))]


def _row(result: ResultView, row: Row) -> list[Cell]:
    squad = result.squads[row.squad_id]
    cells: list[Cell] = [row.rank, squad.number, squad.name, squad.section, row.total]
    for event in row.events:
        cells += [event.points, event.contribution, _state(event)]
    return cells


def _state(event: EventScore) -> str:
    return {"scored": "", "absent": "absent", "excused": "excused", "incomplete": "something is missing"}[event.state]


def spreadsheet(sheets: Mapping[str, Sequence[Sequence[Cell]]], now: datetime) -> Say:
    """A workbook with a sheet for each table; texts that people typed are never formulas."""
    import openpyxl

    made = openpyxl.Workbook()
    made.remove(made.active)
    for title, rows in sheets.items():
        sheet = made.create_sheet(title)
        for number, row in enumerate(rows, start=1):
            for column, cell in enumerate(row, start=1):
                value = plain_cell(cell)
                target = sheet.cell(row=number, column=column, value=value)
                if isinstance(value, str):
                    target.data_type = "s"
        sheet.freeze_panes = "A2"
    made.properties.created = made.properties.modified = now.replace(tzinfo=None)
    kept = BytesIO()
    made.save(kept)
    names = " and ".join(title.lower() for title in sheets)
    file = Attachment(name="try-out.xlsx", data=_of_the_moment(kept.getvalue(), now))
    return Say(
        message=Message(
            text=f"{names.capitalize()}. The file holds names: delete it when you no longer need it.",
            rows=((RECORDS, BACK),),
            files=(file,),
        )
    )


def _of_the_moment(workbook: bytes, now: datetime) -> bytes:
    """The same workbook with this moment wherever the library writes that of the machine: equal tables, equal bytes."""
    moment, kept = f"{now:%Y-%m-%dT%H:%M:%SZ}".encode(), BytesIO()
    with ZipFile(BytesIO(workbook)) as made, ZipFile(kept, "w", ZIP_DEFLATED) as packed:
        for part in made.infolist():
            data = made.read(part)
            if part.filename == "docProps/core.xml":
                data = _MOMENT.sub(moment, data)
            entry = ZipInfo(part.filename, (now.year, now.month, now.day, now.hour, now.minute, now.second))
            entry.compress_type = ZIP_DEFLATED
            packed.writestr(entry, data)
    return kept.getvalue()
