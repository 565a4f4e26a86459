"""Score sheets on paper: the way to print them, and the pages: one for each squad, in large print for who wants it.

The letters shrink until a sheet fits its page. Large print stays large instead, and takes a second page if it must; so
does a sheet that would not fit in letters one can read. What follows says whose it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from bot.rules.core.paper_size import paper_size
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS, RUN_SHEETS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.font_files import drawn
from bot.words.core.number_text import count
from bot.words.core.printed_sheets import MARGIN, Printer, line_height
from bot.words.judging.judges_overview import HOME, who
from storage.records.message import Attachment, Button, Message, Row
from storage.records.people import Judge, Squad
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Criterion, Rubric

if TYPE_CHECKING:
    from fpdf import FPDF

TYPE_IN = Button(key=key(ActionKey.PAPER_ENTER), label="Type in score sheets")
REFUSALS = {
    Reason.NO_PAPER: "There is nothing to print for this judge yet.",
}
SIZES, LARGE_SIZES = (11.0, 10.0, 9.0, 8.0, 7.0, 6.5), (17.0, 16.0, 15.0, 14.0)
"""Of letters, in points, from the largest that is tried; all lengths are in millimetres."""
HOW = "Ring one number in every row. To change it, cross it out and ring another one. Leave no row empty."


def paper_print_panel(judges: Sequence[Judge], large: bool, page: int) -> Message:
    """Print sheets, or type in sheets that were filled on paper."""
    choices = [choice(one.id, one.name, f"Judge {one.number}") for one in judges]
    prompt = "Print the sheets of a judge" + (" (large print)" if large else "")
    turn = partial(key, ActionKey.PAPER_PANEL, int(large))
    listed = list_page(choices, page, prompt, key(ActionKey.PAPER_PRINT, int(large)), turn)
    rows: tuple[Row, ...] = (
        *listed.rows,
        (
            Button(key=key(ActionKey.PAPER_PANEL, int(not large)), label="Normal print" if large else "Large print"),
            TYPE_IN.model_copy(update={"disabled": not judges}),
            RUN_SHEETS,
            HOME,
        ),
    )
    return Message(
        text="**Paper.** One page for each judge and squad, also in large print. Filled sheets are typed in twice, "
        "by two people; differences are shown before anything is saved." + listed.line,
        rows=rows,
    )


def printed(judge: Judge, sheets: int, large: bool, data: bytes, own: bool) -> Message:
    """The score sheets of one judge, to be printed."""
    size = ", in large print" if large else ""
    name = f"score-sheets-judge-{judge.number}{'-large' if large else ''}.pdf"
    file = Attachment(
        name=name, data=data, alt=f"Printable score sheets of judge {judge.number}: {count(sheets, 'sheet')}{size}."
    )
    whose = "your score sheets" if own else f"the score sheets of {who(judge)}"
    listed = "your list" if own else "this judge's list"
    return Message(
        text=f"Here are {whose}: {count(sheets, 'sheet')}{size}. Squads stand in the order of {listed}.",
        rows=((_other_print(large), MY_SHEETS),)
        if own
        else ((Button(key=key(ActionKey.PAPER_PANEL, int(large)), label="Paper"), HOME),),
        files=(file,),
    )


def _other_print(large: bool) -> Button:
    """A judge's own sheets in the other size of letters."""
    return Button(key=key(ActionKey.SHEETS_PAPER, int(not large)), label="Usual print" if large else "Large print")


@dataclass(frozen=True)
class Page:
    """One score sheet to be printed."""

    squad: Squad
    event: Event
    rubric: Rubric


def score_sheets_pdf(
    plan: Plan, sha256: str | None, judge: Judge, pages: Sequence[Page], now: datetime, large: bool = False
) -> bytes:
    """The PDF with one judge's score sheets, in the judge's order of squads."""

    def draw(folder: Path) -> "FPDF":
        printer = ScoreSheetPrinter(paper_size(plan), large, now, folder)
        printer.pdf.set_title(f"Score sheets of {judge.name}: {plan.name}")
        version = f"plan {sha256[:8]}" if sha256 else "plan not frozen yet"
        for page in pages:
            printer.sheet(plan.name, judge, page, version)
        return printer.pdf

    return drawn(draw)


class ScoreSheetPrinter(Printer):
    """Draws score sheets, each on a page of its own."""

    def sheet(self, tryout: str, judge: Judge, page: Page, version: str) -> None:
        """One page; the largest letters with which everything fits."""
        self.pdf.add_page()
        self._head(tryout, judge, page)
        sizes = LARGE_SIZES if self.large else SIZES
        room = self.bottom - self.pdf.get_y() - self._foot_height(page.rubric)
        size = next((size for size in sizes if self._height(page.rubric, size) <= room), sizes[-1])
        again = f"Squad {page.squad.number}: {page.squad.name} - judge {judge.number}, {judge.name} (continued)"
        for criterion in page.rubric.criteria:
            self._make_room(self._whole(criterion, page.rubric, size), again)
            self._criterion(criterion, size, page.rubric.comments == "criterion")
        self._make_room(self._foot_height(page.rubric), again)
        self._foot(page.rubric, size, version)

    def _make_room(self, high: float, again: str) -> None:
        """Begin another page, under a line that says whose it is, when something would not fit any more."""
        if self.pdf.get_y() + high > self.bottom:
            self.pdf.add_page()
            self.line(again, 13 if self.large else 9)
            self.pdf.ln(3)

    def _head(self, tryout: str, judge: Judge, page: Page) -> None:
        pdf, big = self.pdf, 20.0 if self.large else 15.0
        self.line(f"{tryout} - {page.event.name}", 12 if self.large else 9)
        self.line(f"Squad {page.squad.number}: {page.squad.name}", big, bold=True)
        self.line(f"{page.rubric.name} - section {page.squad.section}", 14 if self.large else 10)
        self.line(f"Judge {judge.number}: {judge.name}", 14 if self.large else 10)
        pdf.ln(1)
        self.line(HOW, 13 if self.large else 8.5)
        pdf.ln(2)

    def _height(self, rubric: Rubric, size: float) -> float:
        return sum(self._whole(criterion, rubric, size) for criterion in rubric.criteria)

    def _whole(self, criterion: Criterion, rubric: Rubric, size: float) -> float:
        comment = line_height(size) * 1.7 if rubric.comments == "criterion" else 0.0
        return self._criterion_height(criterion, size) + comment

    def _criterion_height(self, criterion: Criterion, size: float) -> float:
        heights = [self._cell_height(text, size, len(criterion.levels)) for text in criterion.levels]
        body = sum(heights) if self.large else max(heights)
        return line_height(size) * 1.4 + body + 2.5

    def _cell_height(self, text: str, size: float, levels: int) -> float:
        width = self.width - line_height(size) * 2 if self.large else self.width / levels - 2
        lines = self._lines(text, size, False, width)
        return len(lines) * line_height(size) + (1.0 if self.large else line_height(size) * 1.5 + 2)

    def _criterion(self, criterion: Criterion, size: float, comment: bool) -> None:
        pdf = self.pdf
        self.line(criterion.name, size * 1.1, bold=True)
        if self.large:
            self._rows(criterion, size)
        else:
            self._columns(criterion, size)
        if comment:
            self._writing_lines(1, size)
        pdf.set_y(pdf.get_y() + 2.5)

    def _columns(self, criterion: Criterion, size: float) -> None:
        """The levels side by side, each in its box: the number to ring, and what is seen."""
        pdf, top = self.pdf, self.pdf.get_y()
        wide = self.width / len(criterion.levels)
        high = max(self._cell_height(text, size, len(criterion.levels)) for text in criterion.levels)
        pdf.set_font("Sheet", "B", size * 1.3)
        digit = pdf.get_string_width("0")
        for number, text in enumerate(criterion.levels):
            left = MARGIN + number * wide
            pdf.rect(left, top, wide, high)
            pdf.set_y(top + 1)
            pdf.set_font("Sheet", "B", size * 1.3)
            # In the middle: there are single digits only, all as wide as each other.
            self._write([str(number + 1)], left + (wide - digit) / 2 - pdf.c_margin, line_height(size) * 1.5)
            pdf.set_y(top + 1 + line_height(size) * 1.5)
            self._write(self._lines(text, size, False, wide - 2), left + 1, line_height(size))
        pdf.set_xy(MARGIN, top + high)

    def _rows(self, criterion: Criterion, size: float) -> None:
        """The levels one below the other, for large print."""
        pdf = self.pdf
        for number, text in enumerate(criterion.levels, start=1):
            top = pdf.get_y()
            pdf.set_font("Sheet", "B", size * 1.2)
            pdf.cell(line_height(size) * 2, line_height(size), str(number))
            pdf.set_y(top)
            width = self.width - line_height(size) * 2
            self._write(self._lines(text, size, False, width), MARGIN + line_height(size) * 2, line_height(size))
            pdf.set_y(pdf.get_y() + 1)

    def _foot_height(self, rubric: Rubric) -> float:
        return 14.0 + (0 if rubric.comments == "criterion" else 34.0)

    def _foot(self, rubric: Rubric, size: float, version: str) -> None:
        pdf = self.pdf
        if rubric.comments == "sheet":
            self.line(
                "Comment: what you saw, and one next step. The coach may pass it on, without your name.", min(size, 13)
            )
            self._writing_lines(4, 11)
        pdf.set_font("Sheet", "", 8)
        pdf.set_xy(MARGIN, self.bottom - 5)
        pdf.cell(self.width / 2, 5, "Finished (date, initials): ______________________")
        pdf.cell(self.width / 2, 5, version, align="R")

    def _writing_lines(self, count: int, size: float) -> None:
        pdf = self.pdf
        for _ in range(count):
            below = pdf.get_y() + line_height(size) * 1.7
            pdf.set_draw_color(150)
            pdf.line(MARGIN, below, MARGIN + self.width, below)
            pdf.set_draw_color(0)
            pdf.set_y(below)
