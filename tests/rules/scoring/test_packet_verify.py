"""A packet is recomputed from itself alone, and whatever was altered in it is found."""

import json
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.scoring.packet import packet_text, read_packet
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.standings import standings
from tests.rules.scoring.test_measures import BRIDGE, GAP
from tests.rules.scoring.test_packet import differing, packet_of, whole_book
from tests.rules.scoring.test_packet_unreadable import outcome
from tests.rules.scoring.test_tie_breaks import measured_book
from tests.rules.tryouts import random_tryout, tryout_h1


def test_a_packet_with_measured_values_recomputes() -> None:
    for measure, values in ((GAP, [Decimal("4.5"), Decimal(6)]), (BRIDGE, [{"stands": 1}, {"stands": 1, "paper": 1}])):
        found = measured_book(measure, values)
        packet = build(found, standings(found))
        assert all(not stage.differences for stage in verify(packet))


def test_a_packet_verifies_from_its_text_alone() -> None:
    for book in (whole_book(), tryout_h1("adjusted")[0], random_tryout(), random_tryout(seen_by=3, panel="adjusted")):
        stages = verify(read_packet(packet_text(packet_of(book))))
        assert differing(stages) == []
        assert [stage.name for stage in stages][:4] == ["plan_sha256", "attempts", "sheets", "judge_effects"]
        assert sum(stage.checked for stage in stages) > 20


def run_of(data: dict[str, Any], squad: int) -> dict[str, Any]:
    return next(line for line in data["attempts"] if (line["squad"], line["event"]) == (squad, "run"))


@pytest.mark.parametrize(
    ("change", "first"),
    [
        (lambda data: data.update(plan=data["plan"].replace("weight = 2", "weight = 3")), "plan_sha256"),
        (lambda data: run_of(data, 1)["items"].update(core=51), "attempts"),
        (lambda data: data["sheets"][0]["marks"].update(c1=4), "sheets"),
        (lambda data: data["judges"][1].update(weight="1"), "judge_effects"),
        (lambda data: data["results"]["values"].update({"1/art.patch": "21/5"}), "values"),
        (lambda data: data["results"]["scaled"].update({"1/run.samples": "3/5"}), "scaled"),
        (lambda data: data["results"]["events"].update({"2/go": "99"}), "events"),
        (lambda data: data["results"]["totals"].update({"3": "80"}), "totals"),
        (lambda data: data["results"]["totals"].pop("3"), "totals"),
        (lambda data: data["results"]["ranks"].update({"1": 1}), "ranks"),
        (lambda data: data["results"].update(placed=[1]), "placed"),
        (lambda data: data["results"].update(ties=[[1, 2]]), "ties"),
        (lambda data: data["results"].update(straddle=[1, 2]), "straddle"),
        (lambda data: data["results"].update(missing=[]), "missing"),
        (lambda data: data.update(absences=[]), "events"),
        (
            lambda data: data["sheets"].append(
                {"squad": 1, "judge": 1, "event": "art", "measure": "patch", "marks": None}
            ),
            "recompute",
        ),
        (lambda data: run_of(data, 1)["items"].update(gold=1), "recompute"),
        (lambda data: data.update(plan="nonsense"), "plan_sha256"),
    ],
)
def test_whatever_is_altered_is_found_at_the_stage_it_belongs_to(change: Any, first: str) -> None:
    data = json.loads(packet_text(packet_of(whole_book())))
    change(data)
    stages = verify(read_packet(json.dumps(data)))
    assert differing(stages)[0] == first
    assert all(stage.differences[0].where for stage in stages if not stage.right)


@settings(max_examples=60)
@given(st.data())
def test_no_single_result_can_be_changed_unseen(data: st.DataObject) -> None:
    packet = json.loads(packet_text(packet_of(whole_book())))
    stage = data.draw(st.sampled_from(["attempts", "sheets", "judge_effects", "values", "scaled", "events", "totals"]))
    where = data.draw(st.sampled_from(sorted(packet["results"][stage])))
    other = str(data.draw(st.fractions()))
    if packet["results"][stage][where] == other:
        return
    packet["results"][stage][where] = other
    stages = verify(read_packet(json.dumps(packet)))
    assert differing(stages) == [stage]
    [difference] = [each for named in stages if named.name == stage for each in named.differences]
    assert (difference.where, difference.claimed) == (where, other)


def test_no_digit_of_what_was_recorded_can_be_changed_unseen() -> None:
    """But for what nothing is computed from: the faults of a time without an end (and the other one of two times)."""
    text = packet_text(packet_of(whole_book()))
    begin, end = text.index('"squads"'), text.index('"results"')
    unseen = []
    for place in (place for place in range(begin, end) if text[place].isdigit()):
        digit = str((int(text[place]) + 1) % 10)
        if outcome(text[:place] + digit + text[place + 1 :]) == "right":
            unseen.append(text[text.rindex("\n", 0, place) : text.index("\n", place)].strip())
    assert unseen == ['"faults": 0,'], "squad 3 did not finish"
