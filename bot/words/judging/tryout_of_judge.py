"""A judge of several try-outs: which one a message is about, and a button for each other one."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import short_day
from storage.records.message import BUTTON_LABEL, MESSAGE_LENGTH, Button, Message, Row
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.WHICH_TRYOUT: "You judge in more than one try-out. Press the one you mean, then do it again: nothing was "
    "saved.",
}


def tryout_buttons(tryouts: Sequence[Tryout]) -> tuple[Row, ...]:
    """A button for each try-out of a judge who is in several; the day of the brief tells those of one name apart."""
    names = [one.plan.name for one in tryouts]
    buttons = []
    for one in tryouts[:5]:
        day = f" ({short_day(one.plan.calendar.brief.date())})" if names.count(one.plan.name) > 1 else ""
        shown = f"{cut(one.plan.name, BUTTON_LABEL - len(day))}{day}"
        buttons.append(Button(key=key(ActionKey.SHEETS_SWITCH, one.id), label=shown))
    return (tuple(buttons),) if buttons else ()


def _which(refusal: Refusal) -> tuple[Row, ...]:
    found = refusal.fields["tryouts"]
    assert isinstance(found, tuple)
    return tryout_buttons(found)


LEAD_ON = {Reason.WHICH_TRYOUT: _which}


def in_tryout(message: Message, tryout: Tryout, others: Sequence[Tryout]) -> Message:
    """For a judge of several try-outs: which one an answer is about, and the way to the others."""
    named = f"{message.text}\n-# Try-out: {escape(tryout.plan.name)}"
    text = named if len(named) <= MESSAGE_LENGTH else message.text
    keys = {button.key for row in message.rows if isinstance(row, tuple) for button in row}
    more = [row for row in tryout_buttons(others) if isinstance(row, tuple) and row[0].key not in keys]
    return message.model_copy(update={"text": text, "rows": (*message.rows, *more)})
