"""Plans as files: every mistake at once, and written so that they read back equal."""

from datetime import date, datetime
from decimal import Decimal
from hashlib import sha256
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.plan.oversized_plan_files import LARGEST
from bot.rules.plan.plan_problems import BadPlan
from bot.rules.plan.plan_remarks import plan_remarks
from bot.rules.plan.read_plan import fingerprint, read_plan, write_plan
from storage.records.plan import (
    Plan,
    Squads,
)
from tests.rules.plan_files import GOOD, changed
from tests.rules.plan_strategies import plans


def problems(toml: str | bytes) -> list[tuple[str, str, int | None]]:
    """Where each problem is, its kind and its line."""
    with pytest.raises(BadPlan) as bad:
        read_plan(toml)
    return [(".".join(map(str, p.path)), p.kind, p.line) for p in bad.value.problems]


def line(of: str, toml: str = GOOD) -> int:
    """The line of a text in a file, from 1."""
    return toml[: toml.index(of)].count("\n") + 1


def test_a_good_plan_is_read_with_exact_numbers() -> None:
    found = read_plan(GOOD)
    assert found.events[1].weight == Decimal("30.5")
    assert found.calendar.closed == (date(2026, 10, 26), date(2026, 10, 27))
    assert found.squads == Squads(smallest=3, largest=5)


def test_signup_may_close_with_the_deadline_itself() -> None:
    found = read_plan(changed(("closed = [", "signup_closes = 2026-10-22T15:30:00\nclosed = [")))
    assert found.calendar.signup_closes == datetime.fromisoformat("2026-10-22T15:30")


def test_bytes_with_a_mark_and_windows_line_ends_read_the_same() -> None:
    assert read_plan(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()) == read_plan(GOOD)


def test_every_mistake_is_told_at_once_with_its_line() -> None:
    toml = changed(
        ('zone = "Europe/London"', 'zone = "Europe/Londn"'),
        ("weight = 40", "wieght = 40"),
        ("maximum = 100", "maximum = 0"),
        ("2026-10-12T15:30:00", "2026-10-12"),
        ('levels = ["none", "some", "all"]', 'levels = ["none", "some"]'),
        ("limit = 300", "limit = 300\nattempts = 11"),
        ('"bunting.quality.idea"', '"bunting.qualty.idea"'),
    )
    assert problems(toml) == [
        ("zone", "zone", 2),
        ("tie_breaks.1", "tie_break", 8),
        ("calendar.brief", "not_moment", 11),
        ("events.0.wieght", "unknown", line("wieght", toml)),
        ("events.0.measures.0.maximum", "too_small", line("maximum", toml)),
        ("events.1.measures.0.criteria.0.levels", "too_few", line("levels", toml)),
        ("events.1.measures.1.attempts", "too_large", line("attempts", toml)),
    ]


ONE_MISTAKE = [
    # changes, path, kind
    ([('name = "Robot club"\n', "")], "name", "missing"),
    ([('name = "Robot club"', "name = 7")], "name", "not_text"),
    ([('name = "Robot club"', f'name = "{"x" * 101}"')], "name", "too_long"),
    ([('sections = ["7 Ash", "7 Birch"]', "sections = []")], "sections", "too_few"),
    ([('"7 Ash"', '"7 birch"')], "sections.1", "repeated"),
    ([('"7 Ash"', "7")], "sections.0", "not_text"),
    ([('"7 Ash"', '"  "')], "sections.0", "empty"),
    ([("[calendar]", '[[place_groups]]\nsections = ["7 Ash"]\n[calendar]')], "place_groups", "group_left"),
    ([("[calendar]", '[[place_groups]]\nsections = ["7 Ash", "7 Birch", "7 Birhc"]\n[calendar]')],
     "place_groups.0.sections.2", "group_section"),
    ([("[calendar]", '[[place_groups]]\nsections = ["7 Ash", "7 Birch", "7 Ash"]\n[calendar]')],
     "place_groups.0.sections.2", "repeated"),
    ([("[calendar]", '[[place_groups]]\nsections = ["7 Ash", "7 Birch"]\nplaces = 2\n[calendar]')], "places",
     "places_sum"),
    ([("[calendar]", "[[place_groups]]\n[calendar]")], "place_groups.0.sections", "missing"),
    ([('zone = "Europe/London"', 'zone = "Europe/London"\nqualify = -1')], "qualify", "too_small"),
    ([('"7 Ash"', '"7\\nAsh"')], "sections.0", "control"),
    ([('name = "Run"', 'name = "Run\\u0007"')], "events.0.measures.0.name", "control"),
    ([("weight = 40", 'weight = 40\nabout = "a\\u001bb"')], "events.0.about", "control"),
    ([("maximum = 100", "mxaimum = 100\nmaximum = 100")], "events.0.measures.0.mxaimum", "unknown"),
    ([("limit = 300", "limit = 300\nattempts = 99999999999999999999999")], "events.1.measures.1.attempts", "too_large"),
    ([('levels = ["none", "some", "all"]', 'levels = ["a", "b", "c", "d", "e", "f", "g"]')],
     "events.1.measures.0.criteria.0.levels", "too_many"),
    ([('zone = "Europe/London"', 'zone = "America"')], "zone", "zone"),
    ([('zone = "Europe/London"', 'zone = "../../etc/passwd"')], "zone", "zone"),
    ([('zone = "Europe/London"', 'zone = "Europe/London"\nplaces = true')], "places", "yes_no"),
    ([('zone = "Europe/London"', 'zone = "Europe/London"\nplaces = 1.5')], "places", "not_whole"),
    ([('zone = "Europe/London"', 'zone = "Europe/London"\nannounce = "loud"')], "announce", "choice"),
    ([("[calendar]", "[squads]\nsmallest = 4\nlargest = 2\n[calendar]")], "squads.smallest", "squad_sizes"),
    ([("[calendar]", "[squads]\nsmallest = 6\n[calendar]")], "squads.smallest", "squad_sizes"),
    ([("2026-10-12T15:30:00", "2026-10-12T15:30:00Z")], "calendar.brief", "offset"),
    ([("2026-10-12T15:30:00", "20261012")], "calendar.brief", "not_moment"),
    ([("2026-10-27", "2026-10-27T08:00:00")], "calendar.closed.1", "not_date"),
    ([("closed = [", 'remind_at = 16\nclosed = [')], "calendar.remind_at", "not_time"),
    ([("closed = [", 'remind_at_on = { 99 = 08:00:00 }\nclosed = [')], "calendar.remind_at_on.99", "day_number"),
    ([("closed = [", 'remind_at_on = { 11 = 08:00:00 }\nclosed = [')], "calendar.remind_at_on.11", "day_after_window"),
    ([("closed = [", 'weekend = ["funday"]\nclosed = [')], "calendar.weekend.0", "choice"),
    ([("closed = [", 'holidays = { country = "gb" }\nclosed = [')], "calendar.holidays.country", "form"),
    ([("closed = [", 'holidays = { country = "ZZ" }\nclosed = [')], "calendar.holidays.country", "holidays_country"),
    ([("closed = [", 'holidays = { country = "GB", region = "XX" }\nclosed = [')], "calendar.holidays.region",
     "holidays_region"),
    ([("closed = [", 'counting = "school"\nweekend = ["monday", "tuesday", "wednesday", "thursday", "friday", '
                     '"saturday", "sunday"]\nclosed = [')], "calendar.weekend", "no_school_days"),
    ([("2026-10-27", "2026-10-22"), ("closed = [", 'deadline_on_closed_day = "refuse"\nclosed = [')], "calendar.days",
     "deadline_closed"),
    ([("2026-10-12T15:30:00", "9999-12-31T15:30:00")], "calendar.brief", "year"),
    ([("2026-10-27", "1999-10-27")], "calendar.closed.1", "year"),
    ([("closed = [", "signup_closes = 2026-10-22T15:30:01\nclosed = [")], "calendar.signup_closes", "signup_late"),
    ([('zone = "', 'retention_days = 1\nzone = "')], "retention_days", "retention_short"),
    ([("closed = [", "judging_closes = 2026-10-22T15:30:00\nclosed = [")], "calendar.judging_closes", "judging_early"),
    ([('key = "run"', 'key = "Core run"')], "events.0.measures.0.key", "form"),
    ([('key = "chain"', 'key = "quality"')], "events.1.measures.1.key", "repeated"),
    ([("weight = 40", "weight = inf")], "events.0.weight", "not_number"),
    ([("weight = 40", "weight = 0.00001")], "events.0.weight", "too_fine"),
    ([("weight = 40", "weight = -1")], "events.0.weight", "too_small"),
    ([("weight = 40", 'weight = 40\nsurprise = "maybe"')], "events.0.surprise", "not_yes_no"),
    ([("weight = 40", 'weight = 40\ncautions = "Walk."')], "events.0.cautions", "not_list"),
    ([("weight = 40", 'weight = 40\nannounce = "winner"')], "events.0.announce", "misplaced"),
    ([("maximum = 100\n", "")], "events.0.measures.0.maximum", "scale_maximum"),
    ([("maximum = 100", 'maximum = 100\nkeep = "mean-of-best-two"\nattempts = 1')], "events.0.measures.0.attempts",
     "two_attempts"),
    ([('kind = "count"', 'kind = "counts"')], "events.0.measures.0.kind", "choice"),
    ([('kind = "count"\n', "")], "events.0.measures.0.kind", "missing"),
    ([('{ key = "sock", name = "Sock" }', '"sock"')], "events.0.measures.0.items.0", "not_table"),
    ([("limit = 300", 'limit = 300\nscale = "between"\nfull = 60')], "events.1.measures.1.floor", "scale_between"),
    ([("limit = 300", 'limit = 300\nscale = "between"\nfull = 60\nfloor = 60.0')], "events.1.measures.1.full",
     "scale_ends_equal"),
    ([("weight = 40", "weight = 40\nsurprise = true\nhand_in = true")], "events.0.hand_in", "hand_in_secret"),
    ([("weight = 40", "weight = 40\nleast_present = 6")], "events.0.least_present", "least_present"),
    ([("weight = 40", 'weight = 40\nequipment = { name = "Nets", pieces = "present x 2" }')],
     "events.0.equipment.pieces", "form"),
    ([('name = "Quality"', 'name = "Quality"\npanel = "trimmed"\njudges_per_squad = 4')],
     "events.1.measures.0.judges_per_squad", "trimmed_judges"),
    ([('"sock-run", ', '"cor", ')], "tie_breaks.0", "tie_break"),
    ([("maximum = 100", 'scale = "between"\nfloor = 9\nfull = 1')], "events.0.measures.0.full", "higher_ends"),
    ([("maximum = 100", 'better = "lower"\nscale = "between"\nfloor = 1\nfull = 9')], "events.0.measures.0.full",
     "lower_ends"),
    ([("limit = 300", 'limit = 300\nscale = "between"\nfloor = 60\nfull = 300')], "events.1.measures.1.full",
     "time_ends"),
    ([("maximum = 100", 'better = "lower"\nscale = "best"')], "events.0.measures.0.scale", "best_lower"),
    ([('name = "Sock" }', 'name = "Sock", points = 0 }')], "events.0.measures.0.items.0.points", "zero_points"),
    ([('name = "Sock" }', 'name = "Sock", points = -5 }')], "events.0.measures.0.items", "only_penalties"),
    ([('kind = "time"', 'kind = "number"\nunit = "kg"\nhighest = 5'), ("limit = 300", "lowest = 5")],
     "events.1.measures.1.highest", "range_ends"),
    ([('kind = "time"', 'kind = "number"\nunit = "kg"\nhighest = 5.25\ndecimals = 1'), ("limit = 300", "")],
     "events.1.measures.1.highest", "range_decimals"),
    ([('kind = "time"', 'kind = "number"\nunit = "kg"\nhighest = 5'), ("limit = 300", "lowest = -5")],
     "events.1.measures.1.scale", "scale_negative"),
    ([('kind = "time"', 'kind = "number"\nhighest = 5'), ("limit = 300", "")], "events.1.measures.1.unit", "missing"),
    ([('kind = "time"', 'kind = "checklist"'), ("limit = 300", "")], "events.1.measures.1.lines", "missing"),
    ([("[calendar]", '[practice]\ntimes = ["12:10", "12:25"]\n[calendar]')], "practice.times", "practice_overlap"),
    ([("[calendar]", '[practice]\ntimes = ["12:10", "noon"]\n[calendar]')], "practice.times.1", "not_time"),
    ([("[calendar]", "[practice]\ntimes = [730]\n[calendar]")], "practice.times.0", "not_time"),
    ([("[calendar]", "[practice]\ntimes = []\n[calendar]")], "practice.times", "too_few"),
    ([("[calendar]", "[practice]\ntimes = [12:10:00]\nfrom_day = 4\nuntil_day = 3\n[calendar]")],
     "practice.until_day", "practice_days"),
    ([("[calendar]", "[practice]\ntimes = [12:10:00]\nuntil_day = 11\n[calendar]")], "practice.until_day",
     "day_after_window"),
    ([("[calendar]", "[practice]\ntimes = [12:10:00]\nturn = 2\n[calendar]")], "practice.turn", "unknown"),
    ([("[calendar]", "[event_day]\nbegins = 16:00:00\n[calendar]")], "event_day.begins", "day_ends"),
    ([("[calendar]", '[event_day]\nbegins = "early"\n[calendar]')], "event_day.begins", "not_time"),
    ([("[calendar]", '[event_day]\ndates = ["soon"]\n[calendar]')], "event_day.dates.0", "not_date"),
    ([("[calendar]", "[event_day]\ndates = [2020-01-01]\n[calendar]")], "event_day.dates.0", "day_early"),
    ([("[calendar]", "[event_day]\ndates = [2027-03-01, 2027-03-01]\n[calendar]")], "event_day.dates.1", "repeated"),
    ([("[calendar]", '[event_day]\nlessons = [{ section = "7 Ash", begins = 09:00:00, ends = 08:00:00 }]\n[calendar]')],
     "event_day.lessons.0.ends", "day_ends"),
    ([("[calendar]", '[event_day]\nlessons = [{ section = "7 Oak", begins = 08:00:00, ends = 09:00:00 }]\n[calendar]')],
     "event_day.lessons.0.section", "group_section"),
    ([("[calendar]", '[event_day]\nlessons = [{ section = "7 Ash", begins = 08:00:00, ends = 09:00:00, '
       'date = 2027-03-01 }]\n[calendar]')], "event_day.lessons.0.date", "day_date"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "path", "kind"), ONE_MISTAKE)
def test_one_mistake_is_one_problem(changes: list[tuple[str, str]], path: str, kind: str) -> None:
    assert [(where, what) for where, what, _ in problems(changed(*changes))] == [(path, kind)]


def test_a_misspelt_key_is_not_also_missing_and_the_right_one_is_suggested() -> None:
    with pytest.raises(BadPlan) as bad:
        read_plan(changed(("weight = 40", "wieght = 40"), ('zone = "Europe/London"', 'zone = "london"')))
    meant = {problem.path[-1]: problem.fields["meant"] for problem in bad.value.problems}
    assert meant == {"wieght": "weight", "zone": "Europe/London"}


@pytest.mark.parametrize(
    ("toml", "kind", "at_line"),
    [
        (GOOD.replace("weight = 40", "weight = "), "syntax", line("weight = 40")),
        (GOOD.replace("2026-10-26,", "2026-13-26,"), "syntax", line("2026-10-26")),
        (GOOD + "[calendar]\n", "syntax", GOOD.count("\n") + 1),
        ("x = " + "[" * 100_000, "too_deep", 1),
        ("a." * 5000 + "a = 1", "too_deep", 1),
        ("x = 1e-9999999999999999999999", "huge_number", None),
        ("x = " + "9" * 5000, "too_long_name", 1),
        ("# ü\nname = 'ü'\n".encode("latin-1"), "not_utf8", 1),
        ("#" * (LARGEST + 1), "file_too_large", None),
    ],
)
def test_a_file_that_is_no_toml_is_one_problem(toml: str | bytes, kind: str, at_line: int | None) -> None:
    assert problems(toml) == [("", kind, at_line)]


@given(st.text(max_size=200) | st.binary(max_size=200))
def test_any_text_is_a_plan_or_a_list_of_problems(toml: str | bytes) -> None:
    with pytest.raises(BadPlan) as bad:
        read_plan(toml)
    assert bad.value.problems


VALUES = st.sampled_from(["true", "-1", "1e9", '""', "[]", "{}", "[1]", "16:00:00", "2026-01-01", "nan", '"x"', "[[]]"])


@given(place=st.integers(0, GOOD.count("=") - 1), value=VALUES)
def test_any_value_in_any_place_is_read_or_told(place: int, value: str) -> None:
    """Whatever stands behind an equals sign, the answer is a plan or problems, never another error."""
    lines = GOOD.split("\n")
    settings_at = [number for number, text in enumerate(lines) if "=" in text]
    number = settings_at[place % len(settings_at)]
    lines[number] = lines[number].partition("=")[0] + "= " + value
    try:
        read_plan("\n".join(lines))
    except BadPlan as bad:
        assert bad.problems


@given(plans())
@settings(max_examples=60, deadline=None)
def test_a_written_plan_reads_back_equal_and_writes_the_same(of_plan: Plan) -> None:
    text = write_plan(of_plan)
    assert read_plan(text) == of_plan
    assert write_plan(read_plan(text)) == text
    assert isinstance(plan_remarks(of_plan), tuple)


def test_line_ends_of_every_kind_survive_writing() -> None:
    found = read_plan(changed(("weight = 40", 'weight = 40\nabout = "a\\r\\nb\\rc"')))
    assert found.events[0].about == "a\nb\rc"
    assert read_plan(write_plan(found)) == found


def test_the_fingerprint_is_the_digest_of_the_written_file_and_of_the_meaning() -> None:
    of_plan = read_plan(GOOD)
    assert fingerprint(of_plan) == sha256(write_plan(of_plan).encode()).hexdigest()
    assert fingerprint(read_plan(GOOD.replace("weight = 40", "weight = 40.0"))) == fingerprint(of_plan)
    assert fingerprint(read_plan(GOOD.replace("weight = 30.5", "weight = 30.500"))) == fingerprint(of_plan)
    assert fingerprint(read_plan(GOOD.replace("weight = 40", "weight = 41"))) != fingerprint(of_plan)


def test_problems_come_in_the_order_of_the_file() -> None:
    lines = [
        at
        for _, _, at in problems(
            changed(("weight = 40", "weight = 0"), ("weight = 30.5", "weight = 0"), ("limit = 300", ""))
        )
    ]
    assert all(one is not None and other is not None and one <= other for one, other in pairwise(lines))


def test_names_are_kept_for_as_long_as_protests_may_take() -> None:
    """The deadline is on a Thursday; after Friday and the half term, two school days end on Thursday evening."""
    with pytest.raises(BadPlan) as bad:
        read_plan(changed(('zone = "', 'retention_days = 6\nzone = "')))
    assert [(problem.kind, problem.fields["least"]) for problem in bad.value.problems] == [("retention_short", 7)]
    for kept, protest in ((7, 2), (1, 0), (400, 14)):
        text = changed(('zone = "', f'retention_days = {kept}\nprotest_days = {protest}\nzone = "'))
        assert read_plan(text).retention_days == kept
