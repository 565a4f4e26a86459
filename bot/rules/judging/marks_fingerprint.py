"""The fingerprint of a saved sheet: what the audit log keeps of its marks, so that nobody alters them unseen.

The audit log may be read by people who may not see the marks; the chain over it (`bot.rules.core.hash_chain`) covers
the fingerprint.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping

from storage.records.score_sheets import Sheet
from storage.records.tryout import AuditEntry

SAVED = "sheet.save"
"""The action of a saved sheet in the audit log; its `seal` is the fingerprint."""


def marks_fingerprint(sheet_id: int, version: int, marks: Mapping[str, int]) -> str:
    """SHA-256 over the sheet, the version and its marks as canonical JSON, in hexadecimal."""
    text = json.dumps([sheet_id, version, dict(marks)], sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def altered(sheets: Iterable[Sheet], entries: Iterable[AuditEntry]) -> list[Sheet]:
    """The sheets whose marks are not those that the audit log says were saved last.

    A sheet that an older version saved without one cannot be told, and is left out.
    """
    last = {entry.details.get("sheet"): entry.details for entry in entries if entry.action == SAVED}
    return [sheet for sheet in sheets if not _as_saved(sheet, last.get(sheet.id))]


def _as_saved(sheet: Sheet, saved: Mapping[str, object] | None) -> bool:
    if saved is None:
        return not sheet.marks
    version, seal = saved.get("version"), saved.get("seal")
    return seal is None or (isinstance(version, int) and seal == marks_fingerprint(sheet.id, version, sheet.marks))
