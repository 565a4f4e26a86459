"""What is free in the heap of the C library goes back to the system."""

from pathlib import Path

import pytest

from bot import memory

MIB = 1 << 20


def held() -> int:
    """What this process holds, in bytes."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096


@pytest.mark.skipif(memory._glibc is None, reason="another C library")
def test_what_was_taken_for_a_moment_goes_back_to_the_system() -> None:
    # Each is small enough to come out of the heap, and the last one keeps the heap from shrinking by itself.
    pieces = [bytes(2000) for _ in range(30_000)]
    last = pieces[-1]
    full = held()
    del pieces
    memory.give_back()
    assert full - held() > 40 * MIB
    assert len(last) == 2000


def test_another_c_library_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.memory._glibc", None)
    memory.share()
    memory.give_back()
