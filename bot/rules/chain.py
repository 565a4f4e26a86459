"""The hash chain over the trail: nothing in it can be altered afterwards unseen."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def link(previous: str, entry: Mapping[str, Any]) -> str:
    """The digest of an entry: SHA-256 over the digest before it and the entry as canonical JSON, in hexadecimal."""
    text = json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(f"{previous}\n{text}".encode()).hexdigest()
