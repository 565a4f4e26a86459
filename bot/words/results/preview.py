"""The coach's private view of the result: standings, what is missing, ties, and the ways on from there."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.finality import Doubt
from bot.rules.scoring.packet import packet_text
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings import by_number
from bot.words.core.action_keys import ActionKey
from bot.words.core.csv_cells import csv_file
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import who_reads
from bot.words.results.next_step import ANNOUNCE, next_step
from bot.words.results.place_offers import OFFER
from bot.words.results.spreadsheet import standings_rows
from bot.words.results.take_back_announcement import TAKE_BACK
from bot.words.results.who_won_and_why import Analysis, in_front
from bot.words.scoring.missing_scores import headline, missing_lines, waiting_line
from bot.words.scoring.packet import formulas_text
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import rank_lines, so_far_lines
from bot.words.scoring.standings_picture import standings_picture
from bot.words.scoring.tie_breaks import tie_lines
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message, Row

REFUSALS = {
    ResultReason.NOTHING_RANKED: "No squad can be ranked yet, so there is nothing to look into. "
    "The standings say what is missing.",
    ResultReason.NOT_COMPLETE_YET: "Not every squad can be ranked yet, so this would name a wrong winner. "
    "The standings say what is missing.",
}


def preview(
    result: ResultView, found: Analysis | None, files: Sequence[Attachment], announced: bool, why: Doubt | None = None
) -> Message:
    """The first page, with the picture and the files; `why` an announced result is not final."""
    shown = _pages(result, found, announced, why)
    if files:
        note = f"{listing([file.name for file in files])} hold every mark. Keep them among coaches."
        shown[0] = f"{shown[0]}\n-# {note}" if len(shown[0]) + len(note) + 50 < MESSAGE_LENGTH else shown[0]
    return Message(
        text=shown[0] + page_line(0, len(shown)),
        files=(*_picture(result), *files),
        rows=_rows(result, 0, len(shown), announced),
    )


def result_files(result: ResultView) -> tuple[Attachment, ...]:
    """The whole table for a spreadsheet, and the packet from which anyone can recompute it."""
    packet = packet_text(build(result.book, result.standings, formulas_text()))
    return (
        csv_file("standings.csv", standings_rows(result)),
        Attachment(name="results-packet.json", data=packet.encode()),
    )


def _picture(result: ResultView) -> tuple[Attachment, ...]:
    """The bars, best first; while something is missing by number and without places."""
    if not result.rows:
        return ()
    if result.standings.complete:
        return (standings_picture(result, result.rows, "Standings (private)"),)
    return (standings_picture(result, by_number(result.rows), "So far (private)", ranked=False),)


def preview_page(
    result: ResultView, found: Analysis | None, number: int, announced: bool, why: Doubt | None = None
) -> Message:
    """Another page of the same text."""
    shown = _pages(result, found, announced, why)
    number = within(number, len(shown))
    rows = _rows(result, number, len(shown), announced)
    return Message(text=shown[number] + page_line(number, len(shown)), rows=rows)


def _pages(result: ResultView, found: Analysis | None, announced: bool, why: Doubt | None) -> list[str]:
    state = "announced" if announced else "nothing is announced"
    head = f"{headline(result)}\n-# {escape(result.plan.name)}: standings ({state}). {who_reads('standings')}\n"
    if found is not None:
        front = head + in_front(result, found, announced, why)
        blocks = [front, f"**The table**\n{rank_lines(result)}", tie_lines(result)]
    elif result.standings.complete:
        blocks = [head + rank_lines(result), tie_lines(result)]
    else:
        blocks = [head + waiting_line(result), missing_lines(result), so_far_lines(result)]
    if found is None and not announced:
        blocks[0] += f"\n**Next**: {_next_text(next_step(result, 'settled'))}"
    return pages([block for block in blocks if block], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)


def _next_text(onward: Button) -> str:
    if onward == ANNOUNCE:
        return "**Announce** shows you every word first."
    return f"press **{onward.label}**."


def _rows(result: ResultView, number: int, of: int, announced: bool) -> tuple[Row, ...]:
    rows: list[Row] = []
    turn = turning(ActionKey.RESULTS_PAGE, number, of)
    if turn:
        rows.append(turn)
    squads = Button(key=key(ActionKey.RESULTS_SQUADS, 0), label="Squad by squad")
    closer: Row = (squads,)
    if result.standings.complete:
        what_if = Button(key=key(ActionKey.RESULTS_WHAT_IF), label="What if?")
        closer = (squads, what_if, Button(key=key(ActionKey.RESULTS_FIRM), label="Numbers"))
    if announced:
        return (*rows, (OFFER.model_copy(update={"style": "main"}), TAKE_BACK), closer)
    onward = next_step(result, "settled")
    later = ANNOUNCE.model_copy(update={"style": "plain", "disabled": True})
    return (*rows, (onward,) if onward == ANNOUNCE else (onward, later), closer)
