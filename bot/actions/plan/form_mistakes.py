"""Forms of the plan are read whole: everything that is wrong in one is told at once."""

from collections.abc import Callable
from typing import TypeVar

from bot.rules.core.refusal import Refusal
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.read_plan import read_plan, write_plan
from bot.words.core import refusals
from bot.words.plan import form_mistakes as words
from storage.records.plan import Plan

T = TypeVar("T")


class Reading:
    """Reads the fields of a form one by one and remembers everything that was wrong."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def take(self, read: Callable[[], T]) -> T | None:
        """What a field holds, or None after noting what is wrong with it."""
        try:
            return read()
        except Refusal as refusal:
            self.lines.append(refusals.message(refusal).text)
        except BadPlan as bad:
            self.lines += [words.line_of(problem) for problem in bad.problems]
        return None


def checked(plan: Plan) -> Plan:
    """The plan itself. Raises BadPlan with everything that is wrong with it."""
    return read_plan(write_plan(plan))
