"""Files made to keep the bot busy: refused before they are parsed, or told in time that grows with the file only."""

import tracemalloc
from time import process_time

import pytest

from bot.rules.plan.oversized_plan_files import LARGEST
from bot.rules.plan.plan_problems import MOST_TOLD, BadPlan
from bot.rules.plan.read_plan import read_plan
from bot.words.plan.plan_check_report import mistakes_report, plan_check_report
from bot.words.plan.use_plan_file import bad_file
from tests.rules.plan_files import GOOD, changed

REFUSED_UNREAD = [
    ("#" * (10 << 20), "file_too_large"),
    ("x = " + "[" * 1000 + "]" * 1000, "too_deep"),
    ("x = " + "{a = " * 1000, "too_deep"),
    ("a." * 50_000 + "a = 1", "too_deep"),
    ("[" + "a." * 50_000 + "a]", "too_deep"),
    ("x = { " + "a . " * 20_000 + "a = 1 }", "too_deep"),
    ('"a".' * 20_000 + "a = 1", "too_deep"),
    ("a" * 100_000 + " = 1", "too_long_name"),
    ("x = " + "9" * 100_000, "too_long_name"),
    ("x = [" + "\n[" * 100_000, "too_deep"),
]


@pytest.mark.parametrize(("toml", "kind"), REFUSED_UNREAD)
def test_what_would_keep_the_parser_busy_is_refused_at_once(toml: str, kind: str) -> None:
    begun = process_time()
    with pytest.raises(BadPlan):
        read_plan(toml)
    assert process_time() - begun < 0.5
    tracemalloc.start()
    try:
        with pytest.raises(BadPlan) as bad:
            read_plan(toml)
        assert tracemalloc.get_traced_memory()[1] < 40e6
    finally:
        tracemalloc.stop()
    assert [problem.kind for problem in bad.value.problems] == [kind]


def filled(line: str) -> str:
    """The good plan with as many of a line behind it as a file may hold."""
    return GOOD + line * ((LARGEST - len(GOOD.encode())) // len(line))


MANY_MISTAKES = [
    filled("[[events]]\n"),
    filled("[[events.measures]]\n"),
    filled("[[events.measures]]\nkind = 'rubric'\n"),
    "".join(f"k{n} = 1\n" for n in range(30_000)),
    'sections = [ "a' + '", "a' * 60_000 + '" ]',
    "sections = [" + ", ".join(f'"{n}"' for n in range(40_000)) + "]",
    "tie_breaks = [" + ", ".join(f'"e{n}"' for n in range(30_000)) + "]\n" + GOOD.partition("tie_breaks")[2],
    "[calendar]\nclosed = [" + "2026-10-26, " * 30_000 + "]",
    "zone = '" + "Europe/" * 50_000 + "'",
    changed(("Build a robot.", "x" * 400_000)),
]


@pytest.mark.parametrize("toml", MANY_MISTAKES, ids=range(len(MANY_MISTAKES)))
def test_a_file_full_of_mistakes_is_told_in_a_list_that_ends(toml: str) -> None:
    begun = process_time()
    with pytest.raises(BadPlan) as bad:
        read_plan(toml)
    message = bad_file(bad.value.problems, bad.value.left_out)
    assert process_time() - begun < 6  # beside the event loop, on a machine that does much else
    assert 1 <= len(bad.value.problems) <= MOST_TOLD
    assert len(message.text) <= 2000 and len(mistakes_report(bad.value)) <= 100_000


@pytest.mark.parametrize("number", ["1e99999999", "1e-99999999", "-1e99999999", "1e400", "123456789.5e30"])
def test_numbers_beyond_all_scores_are_told_with_their_line(number: str) -> None:
    report, good = plan_check_report(changed(("weight = 40", f"weight = {number}")))
    assert not good and "Line 20. Event 1, `weight` is" in report


def test_brackets_dots_and_long_words_within_texts_are_free() -> None:
    free = "[" * 50 + "a." * 50 + "w" * 150 + "}" * 50 + "# {{{"
    found = read_plan(changed(("Build a robot.", free), ('name = "Run"', f'name = "{"[" * 40}"  # {"[." * 500}')))
    assert free in found.brief
