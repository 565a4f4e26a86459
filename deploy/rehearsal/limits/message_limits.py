"""Limits of messages, of pins and of edits, by the public API's pages on messages and interactions."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from deploy.rehearsal.limits.component_limits import check_message_components
from deploy.rehearsal.limits.field_checks import FieldChecks, Place, flags_of
from deploy.rehearsal.wire.request_bodies import Upload
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.state import COMPONENTS_V2, Message

PIN_LIMIT = 250
"""Pins of a room."""
OLD = timedelta(hours=1)
"""Edits of messages older than this are counted, and refused beyond a number that is not published."""
OLD_EDITS = 30
"""That number here: so many edits an old message takes before 30046."""
FILE_LIMIT = 10 * 1024 * 1024
CALLBACK_FLAGS = 1 << 2 | 1 << 6 | 1 << 12 | 1 << 13
NOT_HERE = ("embeds", "poll", "sticker_ids")
"""What the platform takes and this class server does not know: it is refused, so that nothing is passed over."""


def check_message(body: Json, uploads: list[Upload], *, old: Message | None = None, flags: int = 0) -> None:
    """Raise `Refused` if the platform would not take `body` as a message.

    `old` is the message being edited, if any; `flags` are those the message has or will have.
    """
    checks = FieldChecks()
    content = checks.text(body, "content", (), most=2000)
    for key in NOT_HERE:
        if body.get(key):
            checks.flag((key,), "BASE_TYPE_BAD_LENGTH", "This class server takes none of these.")
    if (flags | flags_of(body)) & COMPONENTS_V2:
        checks.flag(("flags",), "BITFIELD_INVALID", "This class server takes the older message layout only.")
    components = checks.items(body, "components", (), most=5)
    check_message_components(checks, components)
    attachments = checks.items(body, "attachments", (), most=10)
    _check_attachments(checks, attachments, uploads, old)
    _check_mentions(checks, body.get("allowed_mentions"))
    nonce = body.get("nonce")
    if isinstance(nonce, str):
        checks.text(body, "nonce", (), most=25)
    checks.raise_problems()
    _check_weight(uploads)
    _check_not_empty(body, content, components, uploads, old)


def check_callback_flags(flags: int, *, allowed: int = CALLBACK_FLAGS) -> None:
    """Raise `Refused` (50035) for a flag that an answer to an interaction may not set."""
    if flags & ~allowed:
        checks = FieldChecks()
        checks.flag(("data", "flags"), "BITFIELD_INVALID", "This flag may not be set here.")
        checks.raise_problems()


def _check_attachments(checks: FieldChecks, attachments: list[Any], uploads: list[Upload], old: Message | None) -> None:
    sent = {upload.key for upload in uploads}
    kept = {str(file.id) for file in old.files} if old else set()
    named: list[str] = []
    for index, attachment in enumerate(attachments):
        place: Place = ("attachments", index)
        if not isinstance(attachment, dict):
            checks.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        checks.text(attachment, "description", place, most=1024)
        checks.text(attachment, "filename", place, least=1, most=1024)
        key = str(attachment.get("id"))
        if key not in sent | kept:
            checks.flag((*place, "id"), "ATTACHMENT_NOT_FOUND", "Uploaded attachment not found.")
        named.append(key)
    if len(set(named)) != len(named):
        checks.flag(("attachments",), "ATTACHMENT_ID_DUPLICATED", "Attachment ids must differ.")
    staying = [key for key in named if key in kept] if attachments else list(kept)
    if len(uploads) + len(staying) > 10:
        raise Refused(30015)


def _check_mentions(checks: FieldChecks, allowed: Any) -> None:
    if not isinstance(allowed, dict):
        return
    place: Place = ("allowed_mentions",)
    parse = checks.items(allowed, "parse", place, most=3)
    for index, word in enumerate(parse):
        if word not in ("users", "roles", "everyone"):
            checks.choice((*place, "parse", index), "Value must be one of ('everyone', 'users', 'roles').")
    for key in ("users", "roles"):
        ids = checks.items(allowed, key, place, most=100)
        if ids and key in parse:
            message = f"parse:[{key}] and {key}: [ids...] are mutually exclusive."
            checks.flag(place, "MESSAGE_ALLOWED_MENTIONS_PARSE_EXCLUSIVE", message)


def _check_weight(uploads: list[Upload]) -> None:
    if any(len(upload.data) > FILE_LIMIT for upload in uploads):
        raise Refused(50045)


def _check_not_empty(
    body: Json,
    content: str | None,
    components: list[Any],
    uploads: list[Upload],
    old: Message | None,
) -> None:
    if (content and content.strip()) or components or uploads:
        return
    if old is None:
        raise Refused(50006)
    left = {
        "content": old.content if "content" not in body else "",
        "components": old.components if "components" not in body else [],
        "attachments": old.files if "attachments" not in body else body["attachments"] or [],
    }
    if not any(left.values()):
        raise Refused(50006)
