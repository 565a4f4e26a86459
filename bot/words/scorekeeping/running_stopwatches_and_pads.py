"""Ways back to stopwatches and run pads whose message was lost, as the table shows them."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.plain_text import cut
from storage.records.message import BUTTON_LABEL, Button
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Time


def resume(squad: Squad, event: Event, measure: Time, code: str, started: int) -> Button:
    """A way back to a clock whose message was lost."""
    label = f"Clock of {squad.number} {squad.name}"
    return Button(
        key=key(ActionKey.TABLE_FAULT, f"{event.key}.{measure.key}", squad.id, code, started, 0, "again"),
        label=cut(label, BUTTON_LABEL),
        style="good",
    )


def resume_pad(squad: Squad, run_id: int) -> Button:
    """A way back to a run pad whose message was lost."""
    label = f"Run pad of {squad.number} {squad.name}"
    return Button(key=key(DayKey.PAD_LOOK, run_id), label=cut(label, BUTTON_LABEL), style="good")
