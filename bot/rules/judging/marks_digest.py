"""The digest of a saved sheet: what the audit log keeps of its marks, so that they cannot be altered afterwards unseen.

The audit log may be read by people who may not see the marks; the chain over it (`bot.rules.core.hash_chain`) covers
the digest.
"""

import hashlib
import json
from collections.abc import Mapping


def marks_digest(sheet_id: int, version: int, marks: Mapping[str, int]) -> str:
    """SHA-256 over the sheet, the version and its marks as canonical JSON, in hexadecimal."""
    text = json.dumps([sheet_id, version, dict(marks)], sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()
