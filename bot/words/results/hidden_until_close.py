"""What a coach sees of the result while judging is open: what is missing and who owes it."""

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import SEALED
from bot.words.results.next_step import ANNOUNCE, next_step
from bot.words.results.own_sheets_first import own_first
from bot.words.scoring.missing_scores import headline, missing_lines, waiting_line
from bot.words.scoring.result_view import ResultView
from storage.records.message import MESSAGE_LENGTH, Button, Message, Row
from storage.records.tryout import State

REFUSALS = {
    ResultReason.RESULTS_NOT_YET: "There is no result to see before the brief is out.",
    ResultReason.STILL_SEALED: f"{SEALED} Press **Results** in the office to see what is missing and who owes it.",
}


def sealed_view(result: ResultView, state: State, own_sheets: int, number: int = 0) -> Message:
    """What a coach sees of the result while judging is open: what is missing and who owes it; no mark, no order."""
    if own_sheets:
        return own_first(own_sheets)
    head = [
        headline(result),
        f"**{escape(result.plan.name)}: still sealed.** {SEALED} So nobody can be swayed by them.",
    ]
    onward = next_step(result, state)
    if onward != ANNOUNCE:
        head.append(f"**Next**: press **{onward.label}**.")
    blocks = ["\n".join(head), waiting_line(result), missing_lines(result)]
    shown = pages([block for block in blocks if block], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    number = within(number, len(shown))
    rows: list[Row] = []
    turn = turning(ActionKey.RESULTS_PAGE, number, len(shown))
    if turn:
        rows.append(turn)
    rest = (
        Button(key=key(ActionKey.JUDGING_STATUS), label="Who owes what"),
        ANNOUNCE.model_copy(update={"style": "plain", "disabled": True}),
    )
    rows.append(rest if onward == ANNOUNCE else (onward, *rest))
    return Message(text=shown[number] + page_line(number, len(shown)), rows=tuple(rows))
