"""Plans as files: read with every mistake at once, written so that they read back equal, and their fingerprint."""

import tomllib
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from hashlib import sha256
from typing import Any

import tomli_w

from bot.rules.plan.oversized_plan_files import check_bounds, check_size, number
from bot.rules.plan.plan_consistency_checks import check_problems
from bot.rules.plan.plan_key_checks import shape_problems
from bot.rules.plan.plan_line_numbers import key_lines, line_of
from bot.rules.plan.plan_problems import MOST_TOLD, BadPlan, Path, PlanProblem
from storage.records.plan import Plan


def read_plan(toml: str | bytes) -> Plan:
    """The plan that a TOML file holds. Raises BadPlan with every mistake, in the order of the file."""
    text = _text(toml)
    try:
        data = _unix(tomllib.loads(text, parse_float=number))
    except tomllib.TOMLDecodeError as error:
        raise BadPlan((_syntax(error),)) from None
    except RecursionError:
        raise BadPlan((PlanProblem((), "too_deep"),)) from None
    except (ValueError, ArithmeticError):
        raise BadPlan((PlanProblem((), "huge_number"),)) from None
    problems = [*shape_problems(data), *check_problems(data)]
    if problems:
        ordered = _in_order(_consistent(problems), text)
        raise BadPlan(ordered[:MOST_TOLD], len(ordered[MOST_TOLD:]))
    return Plan.model_validate(data)


def write_plan(plan: Plan) -> str:
    """The plan as a TOML file: `read_plan` gives the same plan again, and the same plan gives the same text."""
    return tomli_w.dumps(_plain(plan.model_dump(exclude_none=True)), multiline_strings=True)


def fingerprint(plan: Plan) -> str:
    """The SHA-256 of the written plan, so that `sha256sum` of the exported file shows the same."""
    return sha256(write_plan(plan).encode()).hexdigest()


def short_fingerprint(plan: Plan) -> str:
    """Its beginning, which a button carries of the plan that was shown, so that no other one is agreed to."""
    return fingerprint(plan)[:16]


def _text(toml: str | bytes) -> str:
    check_size(toml)
    if isinstance(toml, str):
        text = toml
    else:
        try:
            text = toml.decode()
        except UnicodeDecodeError as error:
            raise BadPlan((PlanProblem((), "not_utf8", line=toml.count(b"\n", 0, error.start) + 1),)) from None
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    check_bounds(text)
    return text


def _syntax(error: tomllib.TOMLDecodeError) -> PlanProblem:
    """The first mistake in the TOML itself; after it nothing more can be read."""
    message, _, place = str(error).partition(" (at ")
    line = place.removeprefix("line ").partition(",")[0]
    return PlanProblem((), "syntax", fields={"message": message}, line=int(line) if line.isdecimal() else None)


def _consistent(problems: Iterable[PlanProblem]) -> list[PlanProblem]:
    """One problem for each place, the first one, and none within what is no list or table or lacks its kind."""
    first: dict[Path, PlanProblem] = {}
    for problem in problems:
        first.setdefault(problem.path, problem)
    whole = {path for path, problem in first.items() if problem.kind in ("not_list", "not_table")}
    return [
        problem for path, problem in first.items() if not any(path[:length] in whole for length in range(1, len(path)))
    ]


def _in_order(problems: Iterable[PlanProblem], text: str) -> tuple[PlanProblem, ...]:
    lines = key_lines(text)
    placed = [replace(problem, line=line_of(problem.path, lines)) for problem in problems]
    return tuple(sorted(placed, key=lambda problem: (problem.line or 0, [str(part) for part in problem.path])))


def _unix(value: Any) -> Any:
    """The same data with single line feeds, as no file can tell the two kinds of line end apart."""
    if isinstance(value, dict):
        return {key: _unix(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [_unix(entry) for entry in value]
    return value.replace("\r\n", "\n") if isinstance(value, str) else value


def _plain(value: Any) -> Any:
    """Records as TOML has them: lists for tuples, text for the keys of tables, numbers without needless zeros."""
    if isinstance(value, dict):
        return {str(key): _plain(entry) for key, entry in value.items()}
    if isinstance(value, tuple):
        return [_plain(entry) for entry in value]
    if isinstance(value, Decimal):
        return int(value) if value == int(value) else value.normalize()
    return value
