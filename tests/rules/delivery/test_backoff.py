"""How long is waited before something is tried again."""

from datetime import timedelta

from bot.rules.delivery.backoff import backoff_delay


def test_waiting_doubles_with_every_try_up_to_five_minutes() -> None:
    waits = [backoff_delay(tries) for tries in range(1, 13)]
    assert [wait / timedelta(seconds=1) for wait in waits] == [1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300, 300]
    assert backoff_delay(0) == timedelta(seconds=1) and backoff_delay(10**6) == timedelta(minutes=5)
