"""What is left in a squad of a student who is erased."""

from bot.rules.privacy.erase_person import seat_stays_taken


def test_a_seat_stays_taken_once_squads_are_fixed() -> None:
    assert seat_stays_taken(in_squad=True, signup_open=False)
    assert not seat_stays_taken(in_squad=True, signup_open=True)
    assert not seat_stays_taken(in_squad=False, signup_open=False)
