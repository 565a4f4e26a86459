"""The coach's private view of the result: standings, what is missing, ties, and the ways on from there."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.rules.analysis.adjusted_panels import Evened
from bot.rules.analysis.agreement import Agreement
from bot.rules.analysis.judge_profiles import JudgeView, MarkGap
from bot.rules.analysis.placing_bootstrap import JudgeBootstrap
from bot.rules.analysis.robustness import Firmness
from bot.rules.core.refusal_reasons import Reason
from bot.rules.results.finality import Doubt
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Standings
from bot.words.analysis.agreement import CAUTION, agreement_block, evened_block, gap_block, judge_block
from bot.words.analysis.robustness import bootstrap_lines, paragraph
from bot.words.analysis.robustness_picture import firm_picture
from bot.words.analysis.weights_picture import weights_picture
from bot.words.analysis.weights_text import effective_line, hold_line
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape, listing
from bot.words.core.who_reads import SEALED, who_reads
from bot.words.results.complete_result import Analysis, in_front
from bot.words.scoring.missing_scores import ANNOUNCE, headline, missing_lines, next_step, waiting_line
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import rank_lines, so_far_lines, tie_lines
from bot.words.scoring.standings_picture import standings_picture
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message, Row

BACK = Button(key=key(ActionKey.RESULTS_PANEL), label="Standings")

REFUSALS = {
    Reason.OWN_SHEETS_FIRST: "You still have {sheets} of your own to hand in. Then you can see what all the judges "
    "gave.",
    Reason.NOTHING_RANKED: "No squad can be ranked yet, so there is nothing to look into. "
    "The standings say what is missing.",
    Reason.RESULTS_NOT_YET: "There is no result to see before the brief is out.",
    Reason.STILL_SEALED: f"{SEALED} Press **Results** in the office to see what is missing and who owes it.",
    Reason.NOT_COMPLETE_YET: "Not every squad can be ranked yet, so this would name a wrong winner. "
    "The standings say what is missing.",
    Reason.NO_ATTEMPT: "There is no attempt for {measure} yet, so nothing can be computed.",
    Reason.PANEL_EMPTY: "No judge whose marks count has handed in a sheet here, so there is no mean yet.",
    Reason.JUDGE_WEIGHT: "A judge's weight of {weight} will not do; use 0 (shown, not counted) to 5.",
    Reason.MARK_MISSING: "A sheet lacks its mark for {criterion}, so it cannot be counted.",
    Reason.MARK_LEVEL: "A sheet gives {criterion} the level {level}; the highest is {highest}. Let the judge correct "
    "it.",
    Reason.MARK_TWICE: "A judge has two sheets for one squad, so neither can be counted. Tell whoever looks after "
    "the bot.",
    Reason.TIE_BREAK: "The plan breaks ties by **{key}**, which is not in the plan. Correct the plan.",
    Reason.SCALE_TIME: "A time of {seconds} seconds cannot be put on a scale. Undo that attempt at the table.",
    Reason.SCALE_ENDS: "The plan gives a measure the scale `between` with floor {floor} and full {full}. Correct the "
    "plan.",
    Reason.SCALE_MAXIMUM: "The plan gives a measure no usable maximum ({maximum}). Correct the plan.",
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
        back = Button(key=key(ActionKey.RESULTS_ASK_BACK), label="Take the announcement back", style="danger")
        return (*rows, (Button(key=key(ActionKey.OFFER_PANEL), label="Offer the place", style="main"), back), closer)
    onward = next_step(result, "settled")
    later = ANNOUNCE.model_copy(update={"style": "plain", "disabled": True})
    return (*rows, (onward,) if onward == ANNOUNCE else (onward, later), closer)


def firm_page(result: ResultView, firm: Firmness, drawn: JudgeBootstrap) -> Message:
    """How firm the place is: one paragraph in words, then the pictures."""
    blocks = [
        "**How firm is the place?** (private)",
        paragraph(result, firm),
        hold_line(result, firm),
        effective_line(result, firm),
        bootstrap_lines(result, drawn) if firm.closeness is not None or not result.standings.plain else "",
        "-# A place that hangs on one judge or one weight is close, not wrong. The plan's own rules decide.",
    ]
    pictures: list[Attachment] = []
    if firm.closeness is not None:
        pictures.append(firm_picture(result, firm, drawn))
        weights = weights_picture(result, firm)
        if weights is not None:
            pictures.append(weights)
    text = pages(["\n\n".join(block for block in blocks if block)])[0]
    judges = Button(key=key(ActionKey.RESULTS_JUDGES, 0), label="Do the judges agree?")
    return Message(text=text, files=tuple(pictures), rows=((judges, BACK),))


@dataclass(frozen=True)
class Panels:
    """Everything about the judges."""

    agreements: Sequence[Agreement]
    views: Sequence[JudgeView]
    gaps: Sequence[MarkGap]
    evened: Sequence[Evened]
    evened_standings: Standings


def judges_page(result: ResultView, found: Panels, number: int) -> Message:
    """Do the judges agree, and how does each of them mark?"""
    blocks = ["**Do the judges agree?** (private)"]
    for one in found.agreements:
        blocks.append(agreement_block(result, one))
        about = (one.event, one.measure)
        own = [view for view in found.views if (view.event, view.measure) == about]
        fitted = next((each for each in found.evened if (each.event, each.measure) == about), None)
        if own:
            blocks.append(judge_block(result, own, fitted))
    if found.agreements:
        blocks += [evened_block(result, found.evened, found.evened_standings), gap_block(result, found.gaps), CAUTION]
    else:
        blocks.append("The plan has nothing that judges mark.")
    shown = pages([block for block in blocks if block], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    number = within(number, len(shown))
    turn = turning(ActionKey.RESULTS_JUDGES, number, len(shown))
    return Message(text=shown[number] + page_line(number, len(shown)), rows=(turn, (BACK,)) if turn else ((BACK,),))
