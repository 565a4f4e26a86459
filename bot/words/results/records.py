"""What is kept and handed out at the end, as the coach sees it and as it stands on paper."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.results.records_limits import LONGEST, LONGEST_DECISION, LONGEST_WHO, SHORTEST
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from bot.words.core.pages import whole_message
from bot.words.core.paper import fonts, pdf
from bot.words.core.plain_text import count, escape
from bot.words.core.times import full
from bot.words.core.who_reads import who_reads
from bot.words.results.protests import RECORDS
from bot.words.scoring.exports import Cell, plain_cell
from storage.records.message import Answer, Attachment, Button, Form, Message, Row, Say, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.protests import Incident
from storage.records.tryout import State

REFUSALS = {
    ClassReason.INCIDENT_EMPTY: "Say in a few words what happened.",
    ClassReason.INCIDENT_GONE: "That incident is not in the book any more.",
    ClassReason.CERTIFICATES_EARLY: "Certificates are made once the result is announced.",
    ClassReason.CERTIFICATES_NOBODY: "Nobody is in a squad, so there is nobody to make a certificate for.",
}
_MOMENT = re.compile(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
DESTROY = "It holds names: delete it when you no longer need it."


def records(open_protests: int, incidents: int, state: State) -> Message:
    """The page."""
    lines = [
        "**Records**",
        f"Protests open: {open_protests}.{' The result is not final before they are decided.' * bool(open_protests)}",
        f"Book of incidents: {count(incidents, 'entry', 'entries')}. {who_reads('incident', 'it')}",
    ]
    rows: tuple[Row, ...] = (
        (
            Button(key=key(ClassKey.PROTESTS), label="Protests", style="main" if open_protests else "plain"),
            Button(key=key(ClassKey.INCIDENTS), label="Incidents"),
            Button(key=key(ClassKey.TEAM, 0), label="Team of several squads", disabled=state != "announced"),
        ),
        (
            Button(key=key(ClassKey.CERTIFICATES), label="Certificates", disabled=state != "announced"),
            Button(key=key(ClassKey.HEAD_RECORD), label="One page without names"),
            Button(key=key(ClassKey.SPREADSHEET), label="Spreadsheet"),
            BACK,
        ),
    )
    return Message(text="\n".join(line.strip() for line in lines), rows=rows)


def book(found: Sequence[Incident], page: int = 0) -> Message:
    """The book of incidents, the newest first."""
    note = Button(key=key(ClassKey.INCIDENT), label="Note an incident", style="main")
    lines = [f"**Book of incidents** ({len(found)})", f"{who_reads('incident')} It is erased with the names."]
    for one in found:
        who = f" Who: {escape(one.who)}." if one.who else ""
        decision = f" Decision: {escape(one.decision)}." if one.decision else ""
        lines.append(f"- {full(one.happened_at)}: {escape(one.what)}.{who}{decision}")
    choices = [choice(one.id, one.what) for one in found]
    turn = partial(key, ClassKey.INCIDENTS)
    listed = list_page(choices, page, "Strike one out of the book", key(ClassKey.INCIDENT_STRUCK), turn)
    return whole_message("\n".join(lines), (*listed.rows, (note, RECORDS, BACK)), foot=listed.line)


def incident_form() -> Form:
    """What, who, and what was decided."""
    return Form(
        key=key(ClassKey.INCIDENT_NOTED),
        title="Note an incident",
        fields=(
            TextField(key="what", label="What happened?", long=True, least=SHORTEST, most=LONGEST),
            TextField(key="who", label="Who was concerned?", most=LONGEST_WHO, required=False),
            TextField(key="decision", label="What was decided?", most=LONGEST_DECISION, required=False),
        ),
    )


def certificates(plan: Plan, rows: Sequence[tuple[str, str]], day: date, now: datetime) -> Answer:
    """One page for each student."""
    from fpdf import FPDF

    size = "letter" if plan.zone.startswith(("America/", "US/", "Canada/")) else "a4"
    paper: FPDF = FPDF(orientation="landscape", format=size)
    paper.add_font("Sheet", "", fonts() / "DejaVuSans.ttf")
    paper.add_font("Sheet", "B", fonts() / "DejaVuSans-Bold.ttf")
    paper.set_auto_page_break(False)
    paper.set_lang("en")
    paper.set_creation_date(now)
    paper.set_title(f"Certificates: {plan.name}")
    for name, squad in rows:
        paper.add_page()
        paper.rect(10, 10, paper.w - 20, paper.h - 20)
        for text, largest, top, bold in (
            ("Certificate", 34, 0.24, True),
            (name, 30, 0.42, True),
            (f"took part with the squad {squad}", 16, 0.56, False),
            (plan.name, 18, 0.66, True),
            (f"{day.day} {day:%B %Y}", 12, 0.80, False),
        ):
            points = largest
            paper.set_font("Sheet", "B" if bold else "", points)
            while points > 9 and paper.get_string_width(text) > paper.w - 40:
                points -= 1
                paper.set_font("Sheet", "B" if bold else "", points)
            paper.set_xy(15, paper.h * top)
            paper.cell(paper.w - 30, points * 25.4 / 72, text, align="C")
    file = Attachment(name="certificates.pdf", data=bytes(paper.output()))
    text = f"{count(len(rows), 'certificate')}, one page each. {DESTROY}"
    return Say(message=Message(text=text, rows=((RECORDS, BACK),), files=(file,)))


@dataclass(frozen=True)
class Numbers:
    """A try-out in numbers."""

    squads: int
    students: int
    without_account: int
    without_squad: int
    judges: int
    sheets: int
    attempts: int
    absences: int
    plan_changes: int
    exceptions: int
    protests: int
    upheld: int
    incidents: int


def one_page(plan: Plan, schedule: Schedule, announced_at: datetime | None, numbers: Numbers, now: datetime) -> Answer:
    """The page for the head teacher."""

    def day(at: datetime | None) -> str:
        local = at.astimezone(schedule.zone) if at else None
        return f"{local.day} {local:%B %Y}" if local else "not yet"

    dates = [
        f"Brief: {day(schedule.brief)}. Deadline: {day(schedule.deadline)}. Result announced: {day(announced_at)}.",
        f"Sections: {', '.join(plan.sections)}. Places: {plan.places}.",
    ]
    people = [
        f"{count(numbers.squads, 'squad')} with {count(numbers.students, 'student')}, of whom "
        f"{numbers.without_account} without an account on the class server; {numbers.without_squad} without a squad.",
        f"{count(numbers.judges, 'judge')}, {count(numbers.sheets, 'score sheet')} handed in; "
        f"{count(numbers.attempts, 'attempt')} at the table; {count(numbers.absences, 'absence')} from events.",
    ]
    decided = [
        f"The plan was changed {count(numbers.plan_changes, 'time')} after the brief, each with a reason that "
        f"everybody read; {count(numbers.exceptions, 'exception')} for single squads or seats.",
        f"{count(numbers.protests, 'protest')}, {numbers.upheld} upheld. {count(numbers.incidents, 'incident')} noted.",
        f"Names and texts are erased {count(plan.retention_days, 'day')} after the announcement.",
    ]
    events = [f"{event.name}: weight {event.weight.normalize():f}" for event in plan.events]
    sections = [("Dates", dates), ("People", people), ("Events", events), ("Decisions", decided)]
    size = "letter" if plan.zone.startswith(("America/", "US/", "Canada/")) else "a4"
    file = Attachment(name="record.pdf", data=pdf(plan.name, sections, size, now))
    text = "One page in numbers. No name of a person stands in it."
    return Say(message=Message(text=text, rows=((RECORDS, BACK),), files=(file,)))


def roster(
    rows: Sequence[tuple[Squad | None, Sequence[Student]]],
    columns: Sequence[str],
    answers: Mapping[int | None, Mapping[str, bool]],
) -> list[list[Cell]]:
    """Every student with squad and section, and the yes/no columns of the class list."""
    head: list[Cell] = ["section", "squad", "name", "captain", "account", *columns]
    found = [head]
    for squad, members in rows:
        for one in members:
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
    return Say(message=Message(text=f"{names.capitalize()}. {DESTROY}", rows=((RECORDS, BACK),), files=(file,)))


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
