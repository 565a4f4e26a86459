"""What is wrong with a plan, in words: the key, the value and the mend."""

import re
from time import process_time

import pytest

from bot.rules.plan.plan_problems import BadPlan, PlanProblem
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import read_plan
from bot.words.plan.builtin_plan import builtin_plan_text
from bot.words.plan.plan_problems import SENTENCES, place_text, problem_line, problems_text
from tests.rules.plan.test_plan_remarks import REMARKS
from tests.rules.plan.test_read_plan import ONE_MISTAKE
from tests.rules.plan_files import GOOD, changed
from tests.rules.plan_samples import plan


def told(toml: str | bytes) -> list[str]:
    with pytest.raises(BadPlan) as bad:
        read_plan(toml)
    return [problem_line(problem) for problem in bad.value.problems]


def every_problem() -> list[PlanProblem]:
    """A problem of each kind that the rules' own tests bring about, and the remarks."""
    found: list[PlanProblem] = [remark for calendar, _ in REMARKS for remark in plan_remarks(plan(**calendar))]
    for changes, _, _ in ONE_MISTAKE:
        with pytest.raises(BadPlan) as bad:
            read_plan(changed(*changes))
        found += bad.value.problems
    return found


def test_every_problem_has_its_sentence_with_nothing_left_open() -> None:
    for problem in every_problem():
        line = problem_line(problem)
        assert line.endswith((".", "?"))
        assert not re.search(r"[{}]", re.sub(r"\{ .*? \}", "", line)), line  # braces only in TOML examples
        assert "None" not in line
        assert len(line) <= 400


def test_each_sentence_is_brought_about_by_some_plan() -> None:
    brought = {problem.kind for problem in every_problem()}
    of_the_file = {"syntax", "too_deep", "too_long_name", "huge_number", "not_utf8", "file_too_large"}
    remarked = {"brief_past", "deadline_past", "practice_none", "practice_short", "unused", "trimmed_needs_judges"}
    remarked |= {"standard_reorders", "panel_partial", "over_capped", "over_counts", "judges_apart", "name_again"}
    assert SENTENCES.keys() - brought == of_the_file | remarked | {"wrong"}  # which have tests of their own


def test_a_mistake_that_is_new_to_us_is_told_in_the_validators_words() -> None:
    problem = PlanProblem(("places",), "wrong", 3, {"message": "Input should be prime"}, line=4)
    assert problem_line(problem) == "Line 4. `places` is 3. Input should be prime."


SAID = [
    ([("weight = 40", "weight = 0")], "Line 20. Event 1, `weight` is 0. It must be more than 0."),
    ([("weight = 40", "wieght = 40")], "Line 20. Event 1, `wieght`: no plan has this key. Did you mean `weight`?"),
    (
        [('"Europe/London"', '"london"')],
        'Line 2. `zone` is "london", which is not in the IANA list of time zones. Did you mean `Europe/London`?',
    ),
    (
        [("2026-10-12T15:30:00", '"Monday"')],
        'Line 11. [calendar] `brief` is "Monday". Write a local date and time without quotation marks, '
        "such as 2026-10-12T15:30:00.",
    ),
    (
        [("limit = 300", "limit = 300\nattempts = 11")],
        "Line 45. Event 2, measure 2, `attempts` is 11. It must be 10 or less.",
    ),
    (
        [('levels = ["none", "some", "all"]', 'levels = ["none"]')],
        "Line 39. Event 2, measure 1, criterion 1, `levels` has 1 entry. It needs at least 3.",
    ),
    (
        [("limit = 300", "limit = 300\nkeep = 'all'")],
        'Line 45. Event 2, measure 2, `keep` is "all". Choose one of: `best`, `sum`, `mean-of-best-two`.',
    ),
]


@pytest.mark.parametrize(("changes", "sentence"), SAID)
def test_a_mistake_names_its_line_key_value_and_mend(changes: list[tuple[str, str]], sentence: str) -> None:
    assert told(changed(*changes)) == [sentence]


def test_a_file_that_is_no_toml_is_told_with_its_line() -> None:
    (line,) = told(GOOD.replace("weight = 40", "weight = "))
    assert line.startswith("Line 20. The file cannot be read as TOML from here on: Invalid value.")
    assert told(b"\xff") == ["Line 1. The file is not saved as UTF-8 text. Save it again with the encoding UTF-8."]


def test_a_long_value_is_cut_short() -> None:
    (line,) = told(changed(('"Europe/London"', f'"{"x" * 5000}"')))
    assert len(line) < 250


def test_a_long_list_of_mistakes_fits_one_message_and_counts_the_rest() -> None:
    problems = [PlanProblem(("events", n, "weight"), "missing") for n in range(100)]
    text = problems_text(problems)
    assert len(text) <= 1800
    shown = text.count("•")
    assert text.startswith("This plan has 100 mistakes, so nothing was changed.")
    assert text.endswith(f"… and {100 - shown} more.")
    assert problems_text(problems[:1]).count("\n") == 1


def test_places_are_counted_from_one_and_tables_named_as_in_the_file() -> None:
    assert (
        place_text(("events", 1, "measures", 0, "criteria", 2, "levels", 0))
        == "event 2, measure 1, criterion 3, level 1"
    )
    assert place_text(("calendar", "holidays", "country")) == "[calendar.holidays] `country`"
    assert place_text(("calendar", "closed", 1)) == "[calendar] entry 2 of `closed`"
    assert place_text(()) == "the file"


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


def read_or_told(toml: str) -> tuple[list[str], BadPlan | None]:
    try:
        read_plan(toml)
    except BadPlan as bad:
        return [problem_line(problem) for problem in bad.problems], bad
    return [], None


def test_there_are_enough_wrong_plans() -> None:
    assert sum(read_or_told(toml)[1] is not None for _, toml, _ in WRONG) >= 150


@pytest.mark.parametrize(("what", "toml", "line"), WRONG, ids=[what for what, _, _ in WRONG])
def test_a_wrong_plan_is_told_where_what_and_how_to_mend_it(what: str, toml: str, line: int) -> None:
    begun = process_time()
    said, bad = read_or_told(toml)
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
    lines, _ = read_or_told(GOOD.replace(old, new, 1))
    assert len(lines) == 1 and said in lines[0]


def test_a_list_where_a_table_belongs_is_told_once() -> None:
    lines, _ = read_or_told(GOOD.replace("closed = [", "remind_at_on = [08:00:00]\nclosed = [", 1))
    assert len(lines) == 1
    assert "`remind_at_on` is a list. Write days of the window with a time each" in lines[0]
