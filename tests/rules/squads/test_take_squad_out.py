"""Until when a squad can be taken out, and when its room is put away."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.take_squad_out import LOCK_ROOM, check_may_take_out, goes_when_empty, may_put_room_away
from storage.records.delivery import Room


@pytest.mark.parametrize(
    ("withdrawn", "closed", "to_move", "away"),
    [(True, False, 0, True), (True, False, 2, False), (True, True, 0, False), (False, False, 0, False)],
)
def test_a_room_is_put_away_once_when_its_squad_is_out_and_everybody_has_been_shown_out(
    withdrawn: bool, closed: bool, to_move: int, away: bool
) -> None:
    room = Room(
        tryout_id=1,
        squad_id=1,
        number=1,
        name="Moles",
        room_id=9,
        room_name="1-moles",
        room_outdated=False,
        room_closed=closed,
        withdrawn=withdrawn,
        seats_open=to_move,
    )
    assert may_put_room_away(room) is away


def test_a_room_that_is_put_away_is_locked() -> None:
    assert LOCK_ROOM is True


def test_a_squad_stands_once_the_result_is_announced() -> None:
    check_may_take_out(result_stands=False)
    assert goes_when_empty(result_stands=False) and not goes_when_empty(result_stands=True)
    with pytest.raises(Refusal):
        check_may_take_out(result_stands=True)
