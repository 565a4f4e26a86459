"""The paper kit: everything that the event day needs when the network is down, as one PDF in black on white.

Run sheets, judges' sheets, the timetable, the roster with boxes to tick, who is given how much, and the brief. What is
sealed goes into a file of its own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from zoneinfo import ZoneInfo

from bot.rules.core.paper_size import paper_size
from bot.rules.event_day.presence_and_equipment import pieces
from bot.rules.event_day.running_day import RunningDay, run_measures
from bot.words.core.buttons import RUN_SHEETS
from bot.words.core.font_files import drawn
from bot.words.core.plain_text import without_markup
from bot.words.core.printed_sheets import MARGIN
from bot.words.core.times import day_text, with_moments
from bot.words.event_day.event_day_overview import PANEL
from bot.words.event_day.run_sheet_print import FILLED, RunSheetPrinter
from bot.words.event_day.slot_name import event_of, which
from bot.words.judging.paper_sheet_print import TYPE_IN, Page, ScoreSheetPrinter
from bot.words.plan.event_in_brief import event_text
from storage.records.message import Attachment, Message
from storage.records.people import Judge, Squad, Student
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Share

if TYPE_CHECKING:
    from fpdf import FPDF


Part = Literal["timetable", "roster", "equipment", "run sheets", "score sheets", "text"]
"""The text is the brief, or the task of what is sealed."""
IN_ORDER: tuple[Part, ...] = ("timetable", "roster", "equipment", "run sheets", "score sheets", "text")
NOT_SEALED: tuple[Part, ...] = ("timetable", "roster")
"""What the sealed file does not hold: there is nothing sealed in it."""


@dataclass(frozen=True)
class Kit:
    """What is printed."""

    plan: Plan
    sha256: str | None
    now: datetime
    day: RunningDay
    squads: Sequence[Squad]
    members: Mapping[int, Sequence[Student]]
    judges: Mapping[int, Judge]
    events: Sequence[Event]
    """Those of this file: what everybody knows, or what is sealed for somebody."""
    sheets: Sequence[tuple[Judge, Sequence[Page]]]
    brief: Sequence[str] = ()
    """Paragraphs of the brief, or of a sealed task."""
    sealed: bool = False
    """Whether this is the file that only the coach has until the surprise starts."""


def parts(sealed: bool) -> tuple[Part, ...]:
    """What is printed, one after the other, into the file that everybody may see, or into the sealed one."""
    return tuple(part for part in IN_ORDER if not (sealed and part in NOT_SEALED))


def paper_kit(kit: Kit) -> bytes:
    """The PDF."""
    return drawn(lambda folder: _draw(kit, folder))


def _draw(kit: Kit, folder: Path) -> "FPDF":
    printer = _KitPrinter(paper_size(kit.plan), large=False, now=kit.now, folder=folder)
    printer.pdf.set_title(f"{'Sealed: ' if kit.sealed else ''}Event day of {kit.plan.name}")
    version = f"plan {kit.sha256[:8]}" if kit.sha256 else "plan not frozen yet"
    for part in parts(kit.sealed):
        match part:
            case "timetable":
                printer.timetable(kit)
            case "roster":
                printer.roster(kit)
            case "equipment":
                printer.equipment(kit)
            case "run sheets":
                for event in kit.events:
                    printer.shares(kit, event, version)
                    for squad in kit.squads:
                        printer.run_sheet(kit.plan, event, squad, len(kit.members.get(squad.id, ())), version)
            case "score sheets":
                for judge, pages in kit.sheets:
                    for page in pages:
                        printer.sheet(kit.plan.name, judge, page, version)
            case "text":
                printer.text("The task" if kit.sealed else "The brief", kit.brief)
    return printer.pdf


class _KitPrinter(RunSheetPrinter, ScoreSheetPrinter):
    """Draws the other pages of the event day, too, beside run sheets and the sheets of judges."""

    def timetable(self, kit: Kit) -> None:
        """The whole timetable, a line a slot; a day of ten squads fits one page."""
        if not kit.day.slots:
            return
        names = {squad.id: squad for squad in kit.squads}
        zone, last = ZoneInfo(kit.plan.zone), None
        size = 10.0 if len(kit.day.slots) <= 45 else 8.5
        self._title("Timetable", f"{kit.plan.name}. Printed {kit.now.astimezone(zone):%Y-%m-%d %H:%M}.")
        for slot in kit.day.slots:
            local = slot.begins_at.astimezone(zone)
            if local.date() != last:
                last = local.date()
                self._row(day_text(last), size + 1, bold=True)
            event, squad = event_of(kit.plan, slot), names[slot.squad_id]
            where = f", table {slot.table_number}" if slot.table_number else ""
            who = ", ".join(kit.judges[one].name for one in slot.judges if one in kit.judges)
            ends = slot.ends_at.astimezone(zone)
            self._row(
                f"{local:%H:%M}-{ends:%H:%M}   {squad.number} {squad.name} ({squad.section}): "
                f"{event.name if event else slot.event}, {which(kit.day, slot)}{where}{f'; {who}' if who else ''}",
                size,
            )

    def roster(self, kit: Kit) -> None:
        """Every squad with its members, a box for each event."""
        self._title("Who is here", "Tick a box for each event before the squad's first start.")
        heads = [event.name for event in kit.plan.events if not event.surprise]
        self._row("Boxes from left to right: " + "; ".join([*heads, "further events"]), 8.5)
        for squad in kit.squads:
            members = kit.members.get(squad.id, ())
            if self.pdf.get_y() + 7 + 6 * len(members) > self.bottom:
                self.pdf.add_page()
            self._row(f"{squad.number} {squad.name} ({squad.section})", 10.5, bold=True)
            for member in members:
                self._boxes(len(heads) + 1, member.name)
            self.pdf.ln(1.5)

    def _boxes(self, number: int, text: str) -> None:
        top = self.pdf.get_y()
        for place in range(number):
            self.pdf.rect(MARGIN + 2 + place * 8, top + 0.8, 4, 4)
        self.pdf.set_xy(MARGIN + 4 + number * 8, top)
        self.pdf.set_font("Sheet", "", 10)
        self.pdf.cell(self.width - 4 - number * 8, 5.6, text, new_x="LMARGIN", new_y="NEXT")

    def equipment(self, kit: Kit) -> None:
        """How many pieces a squad is given, by how many of it are here."""
        given = [event for event in kit.events if event.equipment is not None]
        if not given:
            return
        self._title("Equipment", "Count who is here, and give so many pieces.")
        most = max((len(members) for members in kit.members.values()), default=kit.plan.squads.largest)
        for event in given:
            assert event.equipment is not None
            self._row(f"{event.name}: {event.equipment.name}", 11, bold=True)
            for here in range(event.least_present or 1, most + 1):
                self._row(f"{here} here: {pieces(event.equipment, here)}")
            for squad in kit.squads:
                full = len(kit.members.get(squad.id, ()))
                self._row(f"{squad.number} {squad.name}: {pieces(event.equipment, full)} if all {full} are here")

    def shares(self, kit: Kit, event: Event, version: str) -> None:
        """One list for all squads of an event in which nothing runs: how many members contributed."""
        counted = [one for one in event.measures if isinstance(one, Share)]
        if not counted or run_measures(event):
            return
        self._title(f"{event.name}: {counted[0].name}", f"{kit.plan.name} - {version}")
        for squad in kit.squads:
            of = len(kit.members.get(squad.id, ()))
            self._row(f"______ of {of}   {squad.number} {squad.name} ({squad.section})", FILLED)

    def text(self, title: str, paragraphs: Sequence[str]) -> None:
        """A text on as many pages as it needs."""
        if not paragraphs:
            return
        self._title(title)
        for paragraph in paragraphs:
            for line in paragraph.split("\n"):
                self._row(line or " ", 10)
            self.pdf.ln(2)


def files(data: bytes, sealed: bytes | None) -> Message:
    """The kit, and what is sealed in a file of its own."""
    kit = Attachment(name="event-day.pdf", data=data)
    text = (
        "**The paper kit**: timetable, roster, equipment, run sheets, judges' sheets and the brief. Print it the day "
        "before. When the network is down, the watch and the sheet are the record. Afterwards run sheets and judges' "
        "sheets are typed in twice, by two people; they count when both say the same."
    )
    if sealed is None:
        return Message(text=text, files=(kit,), rows=((PANEL, RUN_SHEETS, TYPE_IN),))
    text += (
        "\n**sealed.pdf holds the surprise**: its task and its sheets. Print it yourself, and keep it under lock and "
        "key until it starts."
    )
    return Message(
        text=text, files=(kit, Attachment(name="sealed.pdf", data=sealed)), rows=((PANEL, RUN_SHEETS, TYPE_IN),)
    )


def plain(text: str, plan: Plan) -> list[str]:
    """A text of the chat as paragraphs for paper: no marks, and instants as the clock on the wall."""
    return without_markup(with_moments(text, ZoneInfo(plan.zone))).split("\n\n")


def task(events: Sequence[Event], plan: Plan) -> list[str]:
    """The tasks of surprises, for the coach alone."""
    return [part for event in events for part in plain(event_text(event, plan, secret=True, hidden=False), plan)]
