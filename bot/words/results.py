"""The coach's private view of the result: standings, what is missing, ties, and the ways on from there."""

from collections.abc import Sequence

from bot.words.keys import key
from bot.words.outcome import Outcome
from bot.words.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.pictures import standings_picture
from bot.words.plain import escape
from bot.words.standings import gap_line, missing_lines, place_lines, rank_lines, tie_lines
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message, Row

REFUSALS = {
    "results_not_yet": "There is no result to see before the brief is out.",
    "no_attempt": "There is no attempt for {measure} yet, so nothing can be computed.",
    "panel_empty": "No judge whose marks count has handed in a sheet here, so there is no mean yet.",
    "judge_weight": "A judge's weight of {weight} will not do; use 0 (advisory) to 5.",
    "mark_missing": "A sheet lacks its mark for {criterion}, so it cannot be counted.",
    "mark_level": "A sheet gives {criterion} the level {level}; the highest is {highest}. Let the judge correct it.",
    "mark_twice": "A judge has two sheets for one squad, so neither can be counted. Tell whoever looks after the bot.",
    "tie_break": "The plan breaks ties by **{key}**, which is not in the plan. Correct the plan.",
    "scale_time": "A time of {seconds} seconds cannot be put on a scale. Undo that attempt at the table.",
    "scale_ends": "The plan gives a measure the scale `between` with floor {floor} and full {full}. Correct the plan.",
    "scale_maximum": "The plan gives a measure no usable maximum ({maximum}). Correct the plan.",
}


def preview(outcome: Outcome, files: Sequence[Attachment], announced: bool) -> Message:
    """The first page, with the picture and the files."""
    shown = _pages(outcome, announced)
    picture = (standings_picture(outcome, outcome.rows, "Standings (private)"),) if outcome.rows else ()
    return Message(
        text=shown[0] + page_line(0, len(shown)), files=(*picture, *files), rows=_rows(0, len(shown), announced)
    )


def page(outcome: Outcome, number: int, announced: bool) -> Message:
    """Another page of the same text."""
    shown = _pages(outcome, announced)
    number = within(number, len(shown))
    return Message(text=shown[number] + page_line(number, len(shown)), rows=_rows(number, len(shown), announced))


def _pages(outcome: Outcome, announced: bool) -> list[str]:
    state = "announced; this whole table is yours alone" if announced else "private; nothing is announced"
    blocks = [f"**{escape(outcome.plan.name)}: standings** ({state})\n{rank_lines(outcome)}"]
    blocks += [
        text for text in (gap_line(outcome), place_lines(outcome), missing_lines(outcome), tie_lines(outcome)) if text
    ]
    return pages(blocks, MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)


def _rows(number: int, of: int, announced: bool) -> tuple[Row, ...]:
    rows: list[Row] = []
    turn = turning("results.page", number, of)
    if turn:
        rows.append(turn)
    ways = [Button(key=key("results.squads", 0), label="Squad by squad")]
    if not announced:
        ways.insert(0, Button(key=key("results.announce"), label="Announce", style="main"))
    rows.append(tuple(ways))
    return tuple(rows)
