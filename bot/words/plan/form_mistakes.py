"""What was wrong in a form of the plan, all at once, and the way back into it with what was typed."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from bot.rules.plan.plan_problems import PlanProblem
from bot.words.core.action_keys import AnyKey
from bot.words.core.buttons import BACK
from bot.words.core.custom_ids import LIMIT
from bot.words.core.text_as_file import whole_message
from bot.words.core.written_given_back import with_written
from bot.words.plan.plan_problems import problem_line
from storage.records.message import Button, Message


def line_of(problem: PlanProblem) -> str:
    """What is wrong in a plan that was typed into forms: the lines of a file that nobody has written would confuse."""
    return problem_line(replace(problem, line=None))


def mistakes(
    lines: Sequence[str],
    typed: Sequence[str],
    again: AnyKey | None = None,
    written: Mapping[str, str] = MappingProxyType({}),
) -> Message:
    """What was wrong in a form, all at once, and a way back into it.

    The button brings back what of `typed` it can hold; the rest of it, and `written`, stand below the mistakes.
    """
    text = "Nothing was changed yet:\n" + "\n".join(f"- {line}" for line in lines)
    held = _with(again, typed) if again else []
    button = Button(key=":".join(held), label="Correct it", style="main") if again else BACK
    left = {str(number): word for number, word in enumerate(typed) if number >= len(held) - 1}
    return with_written(whole_message(text, ((button,),)), left | dict(written))


def _with(action: AnyKey, typed: Sequence[str]) -> list[str]:
    """The parts of the key of a button that brings back what was typed, as far as it fits."""
    made = [str(action)]
    for word in typed:
        longer = [*made, word.strip().replace(":", ".")]
        if len(":".join(longer)) > LIMIT:
            break
        made = longer
    return made
