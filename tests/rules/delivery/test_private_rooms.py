"""When a private room that is gone is opened anew; when one is put away, and how."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.rules.delivery.private_rooms import LOCK_ROOM, is_opened_anew, may_put_room_away
from storage.records.rooms import Room

NOW = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)


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


def test_a_lost_room_is_opened_anew_but_not_twice_within_an_hour() -> None:
    assert is_opened_anew(None, NOW) and is_opened_anew(NOW - timedelta(hours=1), NOW)
    assert not is_opened_anew(NOW - timedelta(minutes=59), NOW)
