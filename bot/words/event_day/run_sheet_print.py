"""Run sheets on paper: one squad at one event, who is here, and each attempt to be filled in by hand."""

from bot.rules.event_day.running_day import run_measures
from bot.rules.scoring.measures import attempts_allowed
from bot.words.core.number_text import clock, exact
from bot.words.core.printed_sheets import Printer
from storage.records.people import Squad
from storage.records.plan import Event, Plan
from storage.records.plan_measures import AtTable, Checklist, Count, Number, Rubric, Share, Time

AGREED = "Counted aloud and agreed. Squad (initials): __________   Scorekeeper (initials): __________"
FILLED = 14.0
"""The size of what is filled in by hand, in points."""
ABOVE = 6.0
"""The room above a line that is written into by hand, in millimetres."""


class RunSheetPrinter(Printer):
    """Draws run sheets."""

    def _title(self, text: str, below: str = "") -> None:
        self.pdf.add_page()
        self.line(text, 15, bold=True)
        if below:
            self.line(below, 9)
        self.pdf.ln(2)

    def _row(self, text: str, size: float = 10, bold: bool = False) -> None:
        """A line that begins another page where this one is full."""
        if self.pdf.get_y() + 7 > self.bottom:
            self.pdf.add_page()
        self.line(text, size, bold)

    def run_sheet(self, plan: Plan, event: Event, squad: Squad, members: int, version: str) -> None:
        """One squad at one event: who is here, and each attempt to be filled in."""
        measured = [one for one in event.measures if not isinstance(one, Rubric)]
        if not run_measures(event):
            return
        whose = f"Squad {squad.number}: {squad.name} - {event.name}"
        below = f"{plan.name} - {event.name} - section {squad.section} - {version}"
        self._title(f"Squad {squad.number}: {squad.name}", below)
        given = f"   {event.equipment.name} given: ______" if event.equipment else ""
        self.line(f"Here: ______ of {members}{given}", FILLED)
        if event.cautions:
            self._blank("Safety lines checked by: ______________________________", 12)
        for caution in event.cautions:
            self._row(f"- {caution}", 9.5)
        self.pdf.ln(4)
        for measure in measured:
            for number in range(1, attempts_allowed(measure) + 1):
                self._room(12 + _blanks(measure) * (ABOVE + FILLED / 2), f"{whose} - {version}")
                self._attempt(measure, number)
        self._room(24, f"{whose} - {version}")
        self.pdf.ln(3)
        self._row(AGREED, 10.5)
        self.pdf.ln(3)
        self._row("Not here: [  ]   Our fault, run again: ______________________________", 10.5)

    def _room(self, millimetres: float, head: str) -> None:
        """Begin another page, which says whose it is, where so much room is not left on this one."""
        if self.pdf.get_y() + millimetres > self.bottom:
            self.pdf.add_page()
            self.line(head, 11, bold=True)
            self.pdf.ln(3)

    def _blank(self, text: str, size: float) -> None:
        """A line to be written into by hand, with room above it."""
        self.pdf.ln(ABOVE)
        self.line(text, size)

    def _attempt(self, measure: AtTable, number: int) -> None:
        several = (
            "" if isinstance(measure, Share) or measure.attempts == 1 else f", attempt {number} of {measure.attempts}"
        )
        self.line(f"{measure.name}{several}", 15, bold=True)
        match measure:
            case Count():
                length = f"   A run lasts {clock(measure.seconds)}." if measure.seconds else ""
                self._blank(f"Start ____:____   End ____:____{length}", FILLED)
                for item in measure.items:
                    most = f" of {item.most}" if item.most else ""
                    self._blank(
                        f"{item.name} ({exact(item.points)} each): |______________________| = ______{most}", FILLED
                    )
                self._blank("Points off: ______   why: ______________________", FILLED)
            case Number():
                self._blank(f"Value: __________ {measure.unit}", FILLED)
            case Checklist():
                for one in measure.lines:
                    self._blank(f"[  ] {one.name} ({exact(one.points)})", FILLED)
            case Time():
                plan = f"First {clock(measure.planning)} to plan.   " if measure.planning else ""
                self.line(f"{plan}Limit {clock(measure.limit)}.", FILLED)
                self._blank("Watch 1: ____:____.___   Watch 2: ____:____.___   [  ] did not finish", FILLED)
                self._blank(
                    f"Faults (each {exact(measure.fault_seconds)} s): |______________________| = ______", FILLED
                )
            case Share():
                self._blank("Members who took part: ______ of ______", FILLED)
        self.pdf.ln(5)


def _blanks(measure: AtTable) -> int:
    """How many lines of an attempt are written into."""
    match measure:
        case Count():
            return 2 + len(measure.items)
        case Checklist():
            return len(measure.lines)
        case Time():
            return 3
        case _:
            return 1
