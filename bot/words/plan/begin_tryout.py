"""Beginning a try-out: the form, and what is said then."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from storage.records.message import Form, TextField
from storage.records.plan import Plan

REFUSALS: dict[AnyReason, str] = {
    Reason.RUNS_ALREADY: "A try-out is running here already. Put it away first; then the next one can begin.",
    Reason.NEW_BRIEF_PAST: "The brief would be in the past (<t:{brief}:F>). Choose a later date and time. In a plan "
    "file it is the line `brief` under `[calendar]`.",
    Reason.NEW_SIGNUP_PAST: "Sign-up would have closed in the past (<t:{closes}:F>). Choose a later moment.",
}

DAY_HINT = "Year, month, day, such as 2027-01-11"
CLOCK_HINT = "24 hours, such as 15:30"
_ZONE = "Where the school is, such as America/New_York"


def begin_form(typed: Sequence[str] = ()) -> Form:
    """Begin with the built-in plan; `typed` is what was typed before."""
    day, clock, zone, sections = (*typed, "", "", "", "")[:4]
    return Form(
        key=key(ActionKey.PLAN_BEGUN),
        title="Begin a try-out",
        fields=(
            TextField(
                key="date",
                label="Date of the brief",
                hint="The day when everyone gets the tasks, such as 2027-01-11",
                value=day,
                most=20,
            ),
            TextField(key="time", label="Time of the brief", hint=CLOCK_HINT, value=clock.replace(".", ":"), most=10),
            TextField(key="zone", label="Time zone", hint=_ZONE, value=zone, most=50),
            TextField(
                key="sections",
                label="Sections",
                hint="The class groups, separated by commas: 7-A, 7-B",
                value=sections,
                most=1000,
            ),
        ),
    )


def begun(plan: Plan) -> str:
    """A try-out has begun."""
    return f"**{escape(plan.name)}** is set up as a draft; students see nothing yet. Look at the plan, then go on."
