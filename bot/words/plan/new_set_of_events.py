"""The form in which a coach types a new set of events, each with how it is measured, and what is said then."""

from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.new_set_of_events import typed_event
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.times import time_text
from bot.words.plan.new_event_template import TO_WRITE
from storage.records import plan_limits as limits
from storage.records.message import Form, TextField
from storage.records.plan import Plan

REFUSALS: dict[AnyReason, str] = {
    Reason.TYPED_EVENT: "I cannot read this event: **{typed}**. Type it like Poster = judges, Bridge = number kg.",
    Reason.TYPED_EVENTS: f"Type {limits.EVENTS.least} to {limits.EVENTS.most} events with different names, "
    "separated by commas, not **{typed}**.",
}


def renew_form(plan: Plan) -> Form:
    """The events, each with how it is measured, and the times of the practice table."""
    turns = ", ".join(map(time_text, plan.practice.times)) if plan.practice else ""
    return Form(
        key=key(ActionKey.PLAN_RENEWED),
        title="New set of events",
        fields=(
            TextField(
                key="events",
                label="Events: name = how it is measured",
                hint="count, time, judges, checklist, or number UNIT; add lower where less is better. One a line.",
                value="\n".join(typed_event(event) for event in plan.events),
                most=1000,
                long=True,
            ),
            TextField(
                key="turns",
                label="Times at the practice table",
                hint="Such as 12:10, 15:40. Leave it empty if the bot shall not look after turns.",
                value=turns,
                most=200,
                required=False,
            ),
        ),
    )


def renewed(plan: Plan) -> str:
    """What is said once there is a new set of events."""
    names = ", ".join(escape(event.name) for event in plan.events)
    new = listing([f"**{escape(event.name)}**" for event in plan.events if event.about.strip() == TO_WRITE])
    write = f" Pick {new} under **Events** and write what squads do." if new else ""
    return f"These are the events now: {names}.{write}"
