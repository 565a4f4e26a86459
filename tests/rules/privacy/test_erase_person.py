"""What is left in a squad of a student who is erased."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.privacy.erase_person import check_known, is_looked_again, seat_stays_taken


def test_a_seat_stays_taken_once_squads_are_fixed() -> None:
    assert seat_stays_taken(in_squad=True, signup_open=False)
    assert not seat_stays_taken(in_squad=True, signup_open=True)
    assert not seat_stays_taken(in_squad=False, signup_open=False)


def test_it_is_looked_again_while_somebody_is_in_a_room_of_a_try_out_that_goes_on() -> None:
    assert is_looked_again("window", still_in_rooms=True) and not is_looked_again("window", still_in_rooms=False)
    assert not is_looked_again("archived", still_in_rooms=True)


def test_who_is_nothing_here_and_has_recorded_nothing_is_not_known() -> None:
    check_known(None, None, [], None, True)
    with pytest.raises(Refusal, match="knows_nobody"):
        check_known(None, None, [], None, False)
