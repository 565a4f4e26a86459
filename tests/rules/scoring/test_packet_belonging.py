"""What belongs to nothing else in a packet is refused: neither counted nor passed over."""

import json
from collections.abc import Callable
from typing import Any

import pytest

from bot.rules.scoring.packet import read_packet
from bot.rules.scoring.packet_verify import verify
from tests.rules.scoring.test_packet_unreadable import original

Change = Callable[[dict[str, Any]], Any]


@pytest.mark.parametrize(
    "change",
    [
        lambda data: data["attempts"][0].update(squad=77),
        lambda data: data["attempts"][0].update(event="old"),
        lambda data: data["attempts"][0].update(event="art", measure="patch"),
        lambda data: data["attempts"][0].update(items={"gold": 1}),
        lambda data: data["attempts"][-1].update(faults=1),
        lambda data: data["attempts"][-1].update(seconds="9"),
        lambda data: data["attempts"][-1].update(hand_seconds="9"),
        lambda data: data["attempts"][0].update(deductions="1"),
        lambda data: data["attempts"][0].update(hand_seconds="61.2", press_seconds="61.3"),
        lambda data: data["sheets"][0].update(judge=9),
        lambda data: data["sheets"][0].update(squad=77),
        lambda data: data["sheets"][0].update(event="run", measure="samples"),
        lambda data: data["sheets"][0]["marks"].update(charm=4),
        lambda data: data["absences"][0].update(squad=77),
        lambda data: data["absences"][0].update(event="old"),
    ],
)
def test_what_belongs_to_nobody_in_the_packet_is_refused(change: Change) -> None:
    data = original()
    change(data)
    [last] = verify(read_packet(json.dumps(data)))[-1:]
    assert (last.name, last.differences[0].found) == ("recompute", "packet_foreign")
