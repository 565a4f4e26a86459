"""Fault codes: the same for the same mistake in the same function, another for another function."""

import ast
import json
import logging
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from bot.actions.core.fault_log import code_of, fault_code, log_fault

FUNCTION = """
{above}
def panel(): {body}
def other(): {body}
class Office:
    def panel(self): {body}
"""
BROKEN = "raise KeyError('Zacharias')"


def code(module: str, call: str = "panel()", body: str = BROKEN, above: str = "") -> str:
    """The code of what a function of a module raises."""
    names: dict[str, Any] = {"__name__": module, "json": json}
    exec(FUNCTION.format(body=body, above=above), names)
    made: Callable[[], object] = eval(f"lambda: {call}", names)
    with pytest.raises(Exception) as raised:
        made()
    return fault_code(raised.value)


def test_every_file_and_every_function_has_its_own_code() -> None:
    places = [
        code(module, call)
        for module in ("bot.actions.results.place_offers", "bot.words.results.place_offers")
        for call in ("panel()", "other()", "Office().panel()")
    ]
    assert len(set(places)) == 6
    assert all(len(one) == 8 for one in places)


KINDS = ("KeyError", "ValueError", "TypeError", "AttributeError", "IndexError", "AssertionError", "ValidationError",
         "OperationalError", "RuntimeError", "ZeroDivisionError", "Conflict", "HTTPException")  # fmt: skip


def functions(tree: ast.AST, inside: str = "") -> Iterator[str]:
    """The qualified name of every function in a file."""
    for node in ast.iter_child_nodes(tree):
        name = inside
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield f"{inside}{node.name}"
            name = f"{inside}{node.name}.<locals>."
        elif isinstance(node, ast.ClassDef):
            name = f"{inside}{node.name}."
        yield from functions(node, name)


def test_no_two_functions_of_the_program_share_a_code() -> None:
    root = Path(__file__).parents[3]
    places = {
        f"{'.'.join(path.relative_to(root).with_suffix('').parts).removesuffix('.__init__')}:{name}"
        for folder in ("bot", "storage")
        for path in (root / folder).rglob("*.py")
        for name in functions(ast.parse(path.read_text("utf-8")))
    }
    assert "bot.actions.core.fault_log:fault_code" in places and len(places) > 1000
    codes = {code_of(kind, place) for kind in KINDS for place in places}
    assert len(codes) == len(KINDS) * len(places)


def test_lines_that_are_added_or_moved_change_no_code() -> None:
    assert code("bot.app") == code("bot.app", above="# one line more\n\n\nimport json\n")


def test_another_mistake_in_the_same_function_has_another_code() -> None:
    assert code("bot.app") != code("bot.app", body="raise IndexError('Zacharias')")


def test_a_mistake_that_a_library_notices_has_the_code_of_our_function() -> None:
    broken = "return json.loads('Zacharias')"
    assert code("bot.app", body=broken) != code("bot.clock", body=broken)
    assert code("bot.app", "panel()", broken) != code("bot.app", "other()", broken)


def test_the_log_has_the_code_and_none_of_the_words(caplog: pytest.LogCaptureFixture) -> None:
    words = "Zacharias"
    try:
        raise ValueError(words)
    except ValueError as error:
        said = log_fault(logging.getLogger("bot.test"), "looking", error)
    assert said in caplog.text and words not in caplog.text


DRAWN = """
import io, logging, zipfile
from datetime import UTC, date, datetime
import openpyxl
from bot.log_setup import keep_libraries_quiet
from bot.rules.class_list.spreadsheet_or_csv import read_table
from bot.words.results.certificates import certificates
from tests.actions.conftest import small_plan

logging.basicConfig(level=logging.INFO)
keep_libraries_quiet()
certificates(small_plan(), [("\u738b\u5c0f\u660e", "\u72d0\u72f8")], date(2027, 1, 1), datetime.now(UTC))
book = openpyxl.Workbook()
book.active.append(["name", "section"])
book.active.append(["Ada B", 314159265358])
book.active["B2"].number_format = "yyyy-mm-dd"
kept = io.BytesIO()
book.save(kept)
print(len(read_table(kept.getvalue())))
"""
"""A name without a letter that the font of our papers has, and a cell that a library takes for a date beyond all."""


def test_libraries_that_draw_names_and_read_files_quote_nobody_in_the_log() -> None:
    done = subprocess.run([sys.executable, "-c", DRAWN], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout == "2\n"
    assert done.stderr == ""
