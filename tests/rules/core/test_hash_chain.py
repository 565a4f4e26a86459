"""The chain over the audit log: whatever is altered is found."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.hash_chain import START, broken_at, content, link
from storage.records.tryout import AuditEntry

Trail = list[AuditEntry]


def trail(length: int) -> Trail:
    """A trail as it is written: every entry chained to the one before."""
    entries: Trail = []
    for seq in range(1, length + 1):
        entry = AuditEntry(
            seq=seq,
            tryout_id=1,
            at=datetime(2025, 5, 12, 15, 30, tzinfo=UTC) + timedelta(minutes=seq),
            actor=f"user:{100 + seq}",
            action="table.save",
            details={"squad": seq, "attempt": "2"},
            previous=entries[-1].digest if entries else START,
            digest="",
        )
        entries.append(entry.model_copy(update={"digest": link(entry.previous, content(entry))}))
    return entries


def altered(entry: AuditEntry, **changes: object) -> AuditEntry:
    return entry.model_copy(update=changes)


def test_a_trail_as_written_holds() -> None:
    assert broken_at(trail(5)) is None
    assert broken_at([]) is None


@pytest.mark.parametrize(
    "changes",
    [
        {"details": {"squad": 9, "attempt": "2"}},
        {"actor": "user:1"},
        {"action": "table.undone"},
        {"tryout_id": None},
        {"at": datetime(2025, 5, 12, 15, 31, tzinfo=UTC)},
        {"digest": "0" * 64},
        {"previous": "0" * 64},
    ],
)
def test_an_altered_entry_breaks_the_chain_there(changes: dict[str, object]) -> None:
    entries = trail(5)
    entries[2] = altered(entries[2], **changes)
    assert broken_at(entries) == 2


def test_an_entry_altered_with_its_own_digest_breaks_at_the_next() -> None:
    entries = trail(5)
    changed = altered(entries[2], actor="user:1")
    entries[2] = altered(changed, digest=link(changed.previous, content(changed)))
    assert broken_at(entries) == 3


@pytest.mark.parametrize(
    ("change", "place"),
    [
        (lambda entries: entries.pop(1), 1),
        (lambda entries: entries.insert(3, entries[0]), 3),
        (lambda entries: entries.reverse(), 0),
        (lambda entries: entries.pop(0), 0),
    ],
)
def test_a_removed_inserted_or_moved_entry_breaks_the_chain(change: Callable[[Trail], object], place: int) -> None:
    entries = trail(5)
    change(entries)
    assert broken_at(entries) == place


def test_a_later_part_holds_from_the_digest_before_it() -> None:
    entries = trail(5)
    assert broken_at(entries[2:]) == 0
    assert broken_at(entries[2:], start=entries[1].digest) is None


def test_the_same_instant_in_another_zone_is_the_same_entry() -> None:
    entries = trail(2)
    moved = entries[1].at.astimezone(timezone(timedelta(hours=-4)))
    assert broken_at([entries[0], altered(entries[1], at=moved)]) is None


@given(st.dictionaries(st.text(max_size=5), st.integers() | st.text(max_size=5) | st.none(), max_size=4))
def test_the_order_of_keys_does_not_matter(details: dict[str, object]) -> None:
    turned = dict(reversed(details.items()))
    assert link("before", {"details": details}) == link("before", {"details": turned})
    assert link("before", {"details": details}) != link("after", {"details": details})
