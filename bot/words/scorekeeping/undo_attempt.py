"""Undoing an attempt: what is asked once, for the reason, and what is said then."""

from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import all_squads_button
from bot.words.core.custom_ids import key
from bot.words.scorekeeping.attempt_value_text import value_text
from bot.words.scorekeeping.attempts import attempt_name, where
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Measure
from storage.records.scores import Attempt

REFUSALS = {
    TableReason.ATTEMPT_GONE: "That attempt is no longer the last one of its squad. Open the squad again to see what "
    "stands.",
}


def sure_to_undo(squad: Squad, event: Event, measure: Measure, attempt: Attempt) -> Message:
    """Ask once, and for the reason."""
    name = attempt_name(measure, attempt.number, attempt.run_off)
    text = (
        f"Undo {name}? {where(squad, event, measure)}\n{value_text(measure, attempt)}\n"
        "It stays on record as undone. Why does it not count?"
    )
    return Message(
        text=text,
        rows=(
            (
                Button(
                    key=key(ActionKey.TABLE_UNDONE, attempt.id, "slip"), label="It was entered wrongly", style="danger"
                ),
                Button(
                    key=key(ActionKey.TABLE_UNDONE, attempt.id, "rerun"),
                    label="Our equipment failed: run again",
                    style="danger",
                ),
                Button(key=key(ActionKey.TABLE_SQUAD, f"{event.key}.{measure.key}", squad.id), label="Keep it"),
            ),
        ),
    )


def undone(squad: Squad, event: Event, measure: Measure, attempt: Attempt, reason: str) -> Message:
    """It counts no more; it can be entered again."""
    why = "entered wrongly" if reason == "slip" else "our equipment failed, so the squad runs again"
    name = attempt_name(measure, attempt.number, attempt.run_off)
    about = f"{event.key}.{measure.key}"
    return Message(
        text=f"Undone ({why}). {where(squad, event, measure)}, {name}\n{value_text(measure, attempt)}",
        rows=(
            (
                Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label="Enter it again", style="main"),
                all_squads_button(about),
            ),
        ),
    )
