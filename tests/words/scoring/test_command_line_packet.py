"""What a person reads when a packet is verified."""

import json

from bot.rules.scoring.packet import Results, read_packet
from bot.rules.scoring.packet_verify import Difference, Stage, verify
from bot.words.scoring.command_line_packet import DIFFERENCES_SHOWN, NAMES, harmless, stage_lines, verdict, visible
from tests.rules.scoring.test_packet_unreadable import STEERING, original


def test_every_stage_has_a_name() -> None:
    assert {"plan_sha256", "plan", "recompute", *Results.model_fields} == set(NAMES)


def test_a_right_stage_is_one_line() -> None:
    assert stage_lines(Stage("totals", 14, ())) == ["right   totals (14)"]


def test_a_wrong_stage_shows_its_first_differences() -> None:
    differences = tuple(Difference(str(squad), "81", "80") for squad in range(DIFFERENCES_SHOWN + 2))
    first, second, *_, last = stage_lines(Stage("totals", 14, differences))
    assert first == "WRONG   totals (7 of 14)"
    assert second.strip() == "0: the packet says 81, recomputed it is 80"
    assert last.strip() == "and 2 more"


def test_the_verdict_names_the_first_stage_that_differs() -> None:
    right, wrong = Stage("values", 3, ()), Stage("totals", 1, (Difference("1", "2", "3"),))
    assert "4 numbers" in verdict((right, Stage("ranks", 1, ())))
    assert "first difference is in: totals" in verdict((right, wrong, Stage("ranks", 1, wrong.differences)))


def test_signs_that_steer_a_terminal_are_shown_as_codes() -> None:
    data = original()
    data["results"]["missing"] = [STEERING]
    data["results"]["totals"] |= {STEERING: "1", "long" * 60: "9" * 3_000}
    data["plan_sha256"] = STEERING
    stages: tuple[Stage, ...] = verify(read_packet(json.dumps(data)))
    printed = [harmless(line) for stage in stages for line in stage_lines(stage)]
    assert all(line.isprintable() and len(line) < 600 for line in printed)
    assert any("<1b>[2J<1b>[HThis packet holds<7>" in line for line in printed)
    assert visible("Squad 1: 57/8 …") == "Squad 1: 57/8 …"


def test_what_is_not_there_is_called_nothing_and_a_plan_that_is_none_a_plan() -> None:
    lost = stage_lines(Stage("ranks", 1, (Difference("3", "", "2"), Difference("4", "1", ""))))
    assert "the packet says nothing, recomputed it is 2" in lost[1] and lost[2].endswith("recomputed it is nothing")
    assert (
        "the packet says a plan, recomputed it is toml"
        in stage_lines(Stage("plan", 1, (Difference("plan", "", "toml"),)))[1]
    )
