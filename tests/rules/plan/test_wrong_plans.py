"""Wrong plans, made from good ones by what people get wrong: each is told line, key, fault and mend, at once."""

import re
from time import process_time

import pytest

from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.read_plan import read_plan
from bot.words.plan.builtin_plan import builtin_plan_text
from bot.words.plan.plan_problems import problem_line
from tests.rules.plan_files import GOOD

GOODS = {"small": GOOD, "built-in": builtin_plan_text()}
WRONG_VALUES = ('""', "true", "-1", "[]", "{}", "1e9", "16:00:00", '"x"', "2026-13-01", "")


def settings(toml: str) -> list[int]:
    """The numbers of the lines that set a value on one line, outside of texts."""
    found, inside = [], False
    for number, line in enumerate(toml.split("\n")):
        if line.count('"""') % 2:
            inside = not inside
        elif not inside and re.match(r"[a-z_]+ = [^\[{]", line):
            found.append(number)
    return found


def mutations() -> list[tuple[str, str, int]]:
    """Wrong plans with the line, from 1, in which each was spoilt: misspelt keys, missing keys, wrong values."""
    made = []
    for name, toml in GOODS.items():
        lines = toml.split("\n")
        for turn, number in enumerate(settings(toml)):
            key, _, _ = lines[number].partition(" = ")
            value = WRONG_VALUES[turn % len(WRONG_VALUES)]
            for new in (f"{key}x = 1", f"{key} = {value}"):
                spoilt = "\n".join([*lines[:number], new, *lines[number + 1 :]])
                made.append((f"{name}: {lines[number]} -> {new}", spoilt, number + 1))
    return made


WRONG = [(what, toml, line) for what, toml, line in mutations()]


def told(toml: str) -> tuple[list[str], BadPlan | None]:
    try:
        read_plan(toml)
    except BadPlan as bad:
        return [problem_line(problem) for problem in bad.problems], bad
    return [], None


def test_there_are_enough_wrong_plans() -> None:
    assert sum(told(toml)[1] is not None for _, toml, _ in WRONG) >= 150


@pytest.mark.parametrize(("what", "toml", "line"), WRONG, ids=[what for what, _, _ in WRONG])
def test_a_wrong_plan_is_told_where_what_and_how_to_mend_it(what: str, toml: str, line: int) -> None:
    begun = process_time()
    said, bad = told(toml)
    assert process_time() - begun < 1
    if bad is None:
        assert not re.search(r"x = 1$", what), "a misspelt key must never pass"
        return
    places = [problem.path for problem in bad.problems]
    assert len(set(places)) == len(places), "one place, one mistake"
    assert not any(one != other and one == other[: len(one)] and one for one in places for other in places) or all(
        problem.kind != "not_table" for problem in bad.problems
    )
    key = re.sub(r".*: ([a-z_]+) = .*", r"`\1`", what)
    elsewhere = ("missing", key, "scores nothing of that name")
    assert any(sentence.startswith(f"Line {line}.") or any(one in sentence for one in elsewhere) for sentence in said)
    for sentence in said:
        assert re.search(
            r"Write |Did you mean|There are: |Choose |must be |needs |can have |Use at most|Shorten|Swap|Give |Take |"
            r"cannot be read|Raise|Add |Move |must differ", sentence
        ), sentence  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("maximum = 100", "maximum = 100\nlower_is_better = true",
         'Did you mean `better`? Write "lower" where a smaller number is better, otherwise "higher".'),
        ("limit = 300", "time_limit = 300", "Did you mean `limit`?"),
        ('zone = "Europe/London"', 'timezone = "Europe/London"', "Did you mean `zone`?"),
        ('name = "Quality"', 'title = "Quality"', "Did you mean `name`?"),
        ('name = "Quality"', 'name = "Quality"\ncomments = true',
         '`comments` is true. Write where judges can comment: "sheet" or "criterion".'),
        ('key = "quality"', 'key = "quality"\njudges = 3', "Did you mean `judges_per_squad`?"),
    ],
)  # fmt: skip
def test_near_misses_are_answered_with_the_right_key(old: str, new: str, said: str) -> None:
    assert old in GOOD
    lines, _ = told(GOOD.replace(old, new, 1))
    assert len(lines) == 1 and said in lines[0]


def test_a_list_where_a_table_belongs_is_told_once() -> None:
    lines, _ = told(GOOD.replace("closed = [", "remind_at_on = [08:00:00]\nclosed = [", 1))
    assert len(lines) == 1
    assert "`remind_at_on` is a list. Write days of the window with a time each" in lines[0]
