"""Last year's plan taken again: the form for a new date."""

from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.last_years_plan import proposed
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.times import time_text
from bot.words.plan.begin_tryout import CLOCK_HINT, DAY_HINT
from storage.records.message import Form, TextField
from storage.records.plan import Plan

REFUSALS: dict[AnyReason, str] = {
    Reason.NO_LAST_PLAN: "There is no earlier try-out on this server whose plan could be taken again.",
}


def again_form(plan: Plan) -> Form:
    """Begin with the last plan and a new date."""
    clock, sections = proposed(plan)
    return Form(
        key=key(ActionKey.PLAN_REUSED),
        title="Last year's plan",
        fields=(
            TextField(key="date", label="Date of the brief", hint=DAY_HINT, most=20),
            TextField(
                key="time",
                label="Time of the brief",
                hint=CLOCK_HINT,
                value=time_text(clock),
                most=10,
            ),
            TextField(
                key="sections",
                label="Sections",
                hint="The class groups, separated by commas",
                value=", ".join(sections),
                most=1000,
            ),
        ),
    )
