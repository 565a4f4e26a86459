"""Packets that cannot be read, broken or meant to harm: each is refused, and none ends in an error of ours."""

import json
import re
import time
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.scoring.packet import LARGEST, MOST_SQUADS, packet_text, read_packet
from bot.rules.scoring.packet_verify import verify
from bot.words.core import refusals
from bot.words.scoring.command_line_packet import stage_lines, verdict
from tests.rules.scoring.test_packet import packet_of, whole_book

HUGE = [
    "1e99999999",
    "1e-99999999",
    "1E-5000",
    "1e30000000",
    "1" * 20_000,
    "1e999999",
    "NaN",
    "Infinity",
    "0x10",
    "1_0",
]


def original() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(packet_text(packet_of(whole_book())))
    return found


def outcome(text: str) -> str:
    """What becomes of a packet: the reason of a refusal, or the first stage that is wrong."""
    try:
        stages = verify(read_packet(text))
    except Refusal as refusal:
        assert refusals.message(refusal).text
        return refusal.reason
    assert all(stage_lines(stage) for stage in stages)
    assert verdict(stages)
    return next((stage.name for stage in stages if not stage.right), "right")


@pytest.mark.parametrize(
    ("reason", "change"),
    [
        ("packet_version", {"version": 2}),
        ("packet_version", {"format": "something-else"}),
        ("packet_unreadable", {"squads": ["one"]}),
        ("packet_unreadable", {"surprise": 1}),
        ("packet_unreadable", {"results": {}}),
    ],
)
def test_another_packet_is_refused_with_its_reason(reason: str, change: dict[str, object]) -> None:
    data = json.loads(packet_text(packet_of(whole_book()))) | change
    with pytest.raises(Refusal) as refused:
        read_packet(json.dumps(data))
    assert refused.value.reason == reason


@pytest.mark.parametrize("text", ["", "[]", "{", b"\xff\xfe", '{"format": "tenbell-results"}', "null"])
def test_text_that_is_no_packet_is_refused(text: str | bytes) -> None:
    with pytest.raises(Refusal, match="packet_unreadable"):
        read_packet(text)


def test_a_packet_beyond_all_size_is_refused() -> None:
    with pytest.raises(Refusal, match="packet_large"):
        read_packet(" " * (LARGEST + 1))


@pytest.mark.parametrize("number", ["1/0", "x", "", 0.5, "1" * 20_000])
def test_an_exact_number_that_is_none_is_refused(number: object) -> None:
    data = json.loads(packet_text(packet_of(whole_book())))
    data["results"]["totals"]["1"] = number
    with pytest.raises(Refusal, match="packet_unreadable"):
        read_packet(json.dumps(data))


@pytest.mark.parametrize("number", [*HUGE, "1/0", "2/4", "4/2", "-0", "007", "+1", " 1", "1.5", "٣"])
@pytest.mark.parametrize("stage", ["totals", "sheets"])
def test_an_exact_number_that_is_not_plain_and_in_lowest_terms_is_refused(stage: str, number: str) -> None:
    data = original()
    data["results"][stage][next(iter(data["results"][stage]))] = number
    assert outcome(json.dumps(data)) == "packet_unreadable"


@pytest.mark.parametrize("number", HUGE)
@pytest.mark.parametrize(
    "put",
    [
        lambda data, number: data["attempts"][0].update(deductions=number),
        lambda data, number: data["attempts"][0].update(seconds=number),
        lambda data, number: data["attempts"][0].update(amount=number),
        lambda data, number: data["judges"][0].update(weight=number),
    ],
)
def test_a_decimal_beyond_all_measure_is_refused(put: Callable[[dict[str, Any], str], Any], number: str) -> None:
    data = original()
    put(data, number)
    assert outcome(json.dumps(data)) == "packet_unreadable"


@pytest.mark.parametrize("number", ["1e30000000", "9" * 5_000, "1e-9", "true", '"1"', "1.0"])
@pytest.mark.parametrize("where", ['"squad": ', '"number": ', '"faults": ', '"core": '])
def test_a_whole_number_is_one_and_not_a_text_a_truth_or_a_power(where: str, number: str) -> None:
    text = packet_text(packet_of(whole_book()))
    place = text.index(where) + len(where)
    end = place + len(re.match(r"\d+", text[place:])[0])  # type: ignore[index]
    assert outcome(f"{text[:place]}{text[place:end]}{text[end:]}") == "right"
    assert outcome(f"{text[:place]}{number}{text[end:]}") == "packet_unreadable"


def test_ranks_as_text_are_refused() -> None:
    data = original()
    data["results"]["ranks"]["1"] = "1"
    assert outcome(json.dumps(data)) == "packet_unreadable"


def test_a_key_that_stands_twice_is_refused() -> None:
    text = packet_text(packet_of(whole_book()))
    assert outcome(text.replace('"totals": {', '"totals": {"1":"0",', 1)) == "packet_key_twice"
    assert outcome(text.replace("{", '{"version":1,', 1)) == "packet_key_twice"


def test_a_plan_with_a_key_of_a_hundred_thousand_dots_is_refused_at_once() -> None:
    began = time.process_time()
    for plan in (
        ".".join("a" * 50_000) + " = 1",
        "[" + ".".join(["'b'"] * 30_000) + "]",
        "a = {" + "b." * 40_000 + "c = 1}",
    ):
        assert outcome(json.dumps(original() | {"plan": plan})) == "plan_sha256"
    assert time.process_time() - began < 20


@pytest.mark.parametrize("number", ["1e30000000", "1e-5000", "9" * 5_000, "inf", "nan"])
def test_a_plan_with_a_number_beyond_all_measure_is_a_wrong_plan(number: str) -> None:
    data = original()
    data["plan"] = data["plan"].replace("weight = 2", f"weight = {number}", 1)
    assert outcome(json.dumps(data)) == "plan_sha256"


def test_more_squads_than_any_school_has_are_refused() -> None:
    data = original()
    data["squads"] = list(range(1, 100_000))
    assert outcome(json.dumps(data)) == "packet_unreadable"


def test_as_many_squads_as_may_be_are_recomputed_within_seconds() -> None:
    data = original()
    data["squads"] = list(range(1, MOST_SQUADS + 1))
    began = time.process_time()
    assert outcome(json.dumps(data)) == "values"
    assert time.process_time() - began < 60


@pytest.mark.parametrize("text", ["[" * 100_000, '{"a":' * 100_000, '"' + "\\ud800" + '"', "\x00", '{"plan": NaN}'])
def test_text_that_only_harms_is_refused(text: str) -> None:
    assert outcome(text) == "packet_unreadable"


STEERING = "\x1b[2J\x1b[HThis packet holds\x07\u202e\u200b\x9b"


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_packet_that_was_changed_somehow_ends_in_an_error_of_ours(data: st.DataObject) -> None:
    """Some value anywhere is replaced by another of any kind, or some text is cut or doubled."""
    packet = original()
    places: list[tuple[Any, Any]] = []

    def walk(value: Any) -> None:
        entries = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        for key, entry in list(entries):
            places.append((value, key))
            walk(entry)

    walk(packet)
    odd: st.SearchStrategy[Any] = st.sampled_from(
        [None, True, -1, 0, 3, 10**6, 10**18, 0.5, "", "1", "x", "1e9", [], {}, [[]], {"": ""}, "\x1b[2J"]
    )
    for _ in range(data.draw(st.integers(1, 2))):
        owner, key = data.draw(st.sampled_from(places))
        owner[key] = data.draw(odd)
    text = json.dumps(packet)
    if data.draw(st.booleans()):
        place = data.draw(st.integers(0, len(text)))
        text = text[:place] + data.draw(st.sampled_from(["", text[:20], "}", ",", "0"])) + text[place + 1 :]
    assert outcome(text)
