"""What a coach reads when closing judging."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import fitting
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.judging.judges_overview import HOME, OPEN_AGAIN, owed_lines
from storage.records.message import Button, Message
from storage.records.people import Judge
from storage.records.plan import Event

REFUSALS = {
    Reason.JUDGING_NOT_BEGUN: "It is too early for that: judging comes after the deadline. "
    "A single event can be opened for judging as soon as the brief is out.",
    Reason.OWN_SHEETS_BEFORE_CLOSE: "You judge, too, and still owe {sheets}. Hand them in first (**My sheets**), or "
    "let another coach close judging: whoever closes it sees all marks.",
    Reason.JUDGING_OVER: "Judging of this try-out is over.",
}


def own_sheets(owed: int) -> str:
    """What a coach who also judges has to hand in first."""
    return count(owed, "sheet")


def sure_to_close(judges: Sequence[Judge], entries: Sequence[Entry], unopened: Sequence[Event]) -> Message:
    """Ask once before judging is closed; whatever is missing is named."""
    lines = owed_lines(judges, entries)
    lines += [f"- {escape(event.name)} has not been opened for judging" for event in unopened]
    if not lines:
        close = Button(key=key(ActionKey.JUDGING_CLOSED), label="Close judging", style="main")
        return Message(
            text="Every sheet is in. Close judging? Judges cannot change anything after that.", rows=((close, HOME),)
        )
    close = Button(key=key(ActionKey.JUDGING_CLOSED), label="Close anyway", style="danger")
    text = (
        "**Missing:**\n" + "\n".join(fitting(lines, 1600)) + "\n\nIf you close anyway, these sheets do not count: "
        "the squads are scored by the judges who did hand in."
    )
    return Message(text=text, rows=((close, HOME),))


def closed(missing: int) -> Message:
    """Judging is over."""
    without = f" {count(missing, 'sheet')} did not come in and will not count." if missing else ""
    return Message(
        text=f"Judging is closed.{without} Judges cannot change anything now.",
        rows=(
            (
                Button(key=key(ActionKey.RESULTS_PANEL), label="See the standings", style="main"),
                OPEN_AGAIN,
                HOME,
            ),
        ),
    )
