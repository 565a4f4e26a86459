"""A plan file is taken: the form for it, and what was wrong in the file."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.plan.plan_problems import PlanProblem
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.plan.change_plan import reason_fields
from bot.words.plan.plan_problems import problem_line, problems_text
from storage.records.message import Attachment, FileField, Form, Message
from storage.records.tryout import State

REFUSALS: dict[AnyReason, str] = {
    Reason.NO_FILE: "No file came with that. Attach the plan as a TOML file.",
}


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


def file_used() -> str:
    """A plan file was taken."""
    return "The plan in your file counts now."
