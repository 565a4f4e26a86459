"""Certificates for students who took part, one page each."""

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from bot.rules.core.paper_size import paper_size
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.words.core.buttons import BACK, RECORDS
from bot.words.core.font_files import add_letters, drawn
from bot.words.core.number_text import count
from storage.records.message import Answer, Attachment, Message, Say
from storage.records.plan import Plan

if TYPE_CHECKING:
    from fpdf import FPDF

REFUSALS = {
    ResultReason.CERTIFICATES_EARLY: "Certificates are made once the result is announced.",
    ResultReason.CERTIFICATES_NOBODY: "Nobody is in a squad, so there is nobody to make a certificate for.",
}


def certificates(plan: Plan, rows: Sequence[tuple[str, str]], day: date, now: datetime) -> Answer:
    """One page for each student."""
    file = Attachment(name="certificates.pdf", data=drawn(lambda folder: _draw(plan, rows, day, now, folder)))
    text = (
        f"{count(len(rows), 'certificate')}, one page each. The file holds names: delete it when you no longer need it."
    )
    return Say(message=Message(text=text, rows=((RECORDS, BACK),), files=(file,)))


def _draw(plan: Plan, rows: Sequence[tuple[str, str]], day: date, now: datetime, folder: Path) -> "FPDF":
    from fpdf import FPDF

    paper: FPDF = FPDF(orientation="landscape", format=paper_size(plan))
    add_letters(paper, folder)
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
    return paper
