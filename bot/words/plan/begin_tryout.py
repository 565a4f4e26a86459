"""Beginning a try-out: its forms, and what was wrong in the file of a plan."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.plan_problems import PlanProblem
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.plan.change_plan import reason_fields
from bot.words.plan.plan_problems import problem_line, problems_text
from storage.records.message import Attachment, FileField, Form, Message, TextField
from storage.records.plan import Plan
from storage.records.tryout import State

REFUSALS: dict[AnyReason, str] = {
    Reason.RUNS_ALREADY: "A try-out is running here already. Put it away first; then the next one can begin.",
    Reason.NO_FILE: "No file came with that. Attach the plan as a TOML file.",
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


def file_form(state: State | None) -> Form:
    """Attach a plan file."""
    file = FileField(key="plan", label="The plan", hint="A TOML file. All its mistakes are listed at once.")
    return Form(key=key(ActionKey.PLAN_USE), title="Use a plan file", fields=(file, *reason_fields(state)))


def bad_file(problems: Sequence[PlanProblem], left_out: int = 0) -> Message:
    """The mistakes of a plan file; a list that is too long comes as a file."""
    text = problems_text(problems, left_out=left_out)
    lines = [problem_line(problem) for problem in problems]
    if len(text) >= sum(len(line) + 2 for line in lines):
        return Message(text=text)
    if left_out:
        lines.append(f"… and {left_out} more. Mend these first.")
    return Message(
        text=text + "\nA longer list is in the file.",
        files=(Attachment(name="mistakes.txt", data="\n".join(lines).encode()),),
    )


def begun(plan: Plan) -> str:
    """A try-out has begun."""
    return f"**{escape(plan.name)}** is set up as a draft; students see nothing yet. Look at the plan, then go on."


def file_used() -> str:
    """A plan file was taken."""
    return "The plan in your file counts now."
