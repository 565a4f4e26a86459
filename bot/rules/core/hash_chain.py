"""The hash chain over the audit log: nothing in it can be altered afterwards unseen."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from datetime import UTC
from typing import Any

from storage.records.tryout import AuditEntry

START = ""
"""What stands before the first entry."""


def link(previous: str, entry: Mapping[str, Any]) -> str:
    """The digest of an entry: SHA-256 over the digest before it and the entry as canonical JSON, in hexadecimal."""
    text = json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(f"{previous}\n{text}".encode()).hexdigest()


def content(entry: AuditEntry) -> dict[str, Any]:
    """What the digest of an entry covers: all of it but its place and the digests themselves."""
    return {
        "tryout": entry.tryout_id,
        "at": entry.at.astimezone(UTC).isoformat(timespec="microseconds"),
        "actor": entry.actor,
        "action": entry.action,
        "details": entry.details,
    }


def broken_at(entries: Iterable[AuditEntry], start: str = START) -> int | None:
    """The place, from 0, of the first entry of a log that does not follow from those before it; None when all do.

    An entry that was altered, inserted, removed or moved breaks the chain there or at the next one. What was cut off at
    the end cannot be seen from the audit log alone: compare its last digest with one that was written down.
    """
    previous = start
    for place, entry in enumerate(entries):
        if entry.previous != previous or entry.digest != link(previous, content(entry)):
            return place
        previous = entry.digest
    return None
