"""Limits of a message body, whether it is new or an edit, by the public API's pages on messages and interactions."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.component_limits import check_message_components
from deploy.rehearsal.limits.field_checks import Gauge, Place, flags_of
from deploy.rehearsal.wire.request_bodies import Upload
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.components import walk
from deploy.rehearsal.world.state import COMPONENTS_V2, Message

FILE_LIMIT = 10 * 1024 * 1024
CALLBACK_FLAGS = 1 << 2 | 1 << 6 | 1 << 12 | 1 << 13 | 1 << 15
EMBED_TOTAL = 6000


def check_message(body: Json, uploads: list[Upload], *, old: Message | None = None, flags: int = 0) -> None:
    """Raise `Refused` if the platform would not take `body` as a message.

    `old` is the message being edited, if any; `flags` are those the message has or will have.
    """
    gauge = Gauge()
    content = gauge.text(body, "content", (), most=2000)
    v2 = bool((flags | flags_of(body)) & COMPONENTS_V2)
    embeds = gauge.items(body, "embeds", (), most=10)
    if v2:
        for key in ("content", "embeds", "sticker_ids", "poll"):
            if body.get(key):
                code = "MESSAGE_CANNOT_USE_LEGACY_FIELDS_WITH_COMPONENTS_V2"
                gauge.flag((key,), code, f"The '{key}' field cannot be used when using MessageFlags.IS_COMPONENTS_V2")
    _check_embeds(gauge, embeds)
    components = gauge.items(body, "components", (), most=40)
    check_message_components(gauge, components, v2=v2)
    attachments = gauge.items(body, "attachments", (), most=10)
    _check_attachments(gauge, attachments, uploads, old)
    _check_mentions(gauge, body.get("allowed_mentions"))
    nonce = body.get("nonce")
    if isinstance(nonce, str):
        gauge.text(body, "nonce", (), most=25)
    _check_references(gauge, components, embeds, attachments, uploads, old)
    gauge.settle()
    _check_weight(uploads)
    _check_not_empty(body, content, embeds, components, uploads, old)


def check_callback_flags(flags: int, *, allowed: int = CALLBACK_FLAGS) -> None:
    """Raise `Refused` (50035) for a flag that an answer to an interaction may not set."""
    if flags & ~allowed:
        gauge = Gauge()
        gauge.flag(("data", "flags"), "BITFIELD_INVALID", "This flag may not be set here.")
        gauge.settle()


def _check_embeds(gauge: Gauge, embeds: list[Any]) -> None:
    total = 0
    for index, embed in enumerate(embeds):
        place: Place = ("embeds", index)
        if not isinstance(embed, dict):
            gauge.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        texts = [
            _trimmed(gauge, embed, "title", place, 256),
            _trimmed(gauge, embed, "description", place, 4096),
            _trimmed(gauge, embed.get("footer") or {}, "text", (*place, "footer"), 2048),
            _trimmed(gauge, embed.get("author") or {}, "name", (*place, "author"), 256),
        ]
        for number, field in enumerate(gauge.items(embed, "fields", place, most=25)):
            here = (*place, "fields", number)
            texts.append(gauge.text(field, "name", here, least=1, most=256, required=True) or "")
            texts.append(gauge.text(field, "value", here, least=1, most=1024, required=True) or "")
        total += sum(map(len, texts))
    if total > EMBED_TOTAL:
        gauge.flag(("embeds",), "MAX_EMBED_SIZE_EXCEEDED", f"Embed size exceeds maximum size of {EMBED_TOTAL}")


def _trimmed(gauge: Gauge, holder: Json, key: str, place: Place, most: int) -> str:
    value = holder.get(key)
    if isinstance(value, str):
        return gauge.text({key: value.strip()}, key, place, most=most) or ""
    return gauge.text(holder, key, place, most=most) or ""


def _check_attachments(gauge: Gauge, attachments: list[Any], uploads: list[Upload], old: Message | None) -> None:
    sent = {upload.key for upload in uploads}
    kept = {str(file.id) for file in old.files} if old else set()
    named: list[str] = []
    for index, attachment in enumerate(attachments):
        place: Place = ("attachments", index)
        if not isinstance(attachment, dict):
            gauge.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        gauge.text(attachment, "description", place, most=1024)
        gauge.text(attachment, "filename", place, least=1, most=1024)
        key = str(attachment.get("id"))
        if key not in sent | kept:
            gauge.flag((*place, "id"), "ATTACHMENT_NOT_FOUND", "Uploaded attachment not found.")
        named.append(key)
    if len(set(named)) != len(named):
        gauge.flag(("attachments",), "ATTACHMENT_ID_DUPLICATED", "Attachment ids must differ.")
    staying = [key for key in named if key in kept] if attachments else list(kept)
    if len(uploads) + len(staying) > 10:
        raise Refused(30015)


def _check_mentions(gauge: Gauge, allowed: Any) -> None:
    if not isinstance(allowed, dict):
        return
    place: Place = ("allowed_mentions",)
    parse = gauge.items(allowed, "parse", place, most=3)
    for index, word in enumerate(parse):
        if word not in ("users", "roles", "everyone"):
            gauge.choice((*place, "parse", index), "Value must be one of ('everyone', 'users', 'roles').")
    for key in ("users", "roles"):
        ids = gauge.items(allowed, key, place, most=100)
        if ids and key in parse:
            message = f"parse:[{key}] and {key}: [ids...] are mutually exclusive."
            gauge.flag(place, "MESSAGE_ALLOWED_MENTIONS_PARSE_EXCLUSIVE", message)


def _check_references(
    gauge: Gauge,
    components: list[Any],
    embeds: list[Any],
    attachments: list[Any],
    uploads: list[Upload],
    old: Message | None,
) -> None:
    """Note `attachment://` references to files that are not there."""
    names = {upload.filename for upload in uploads}
    names |= {str(entry.get("filename")) for entry in attachments if isinstance(entry, dict)}
    names |= {file.name for file in old.files} if old else set()
    urls: list[tuple[Place, Any]] = []
    for place, component in walk(components):
        holders = [component.get("media"), component.get("file")]
        holders += [item.get("media") for item in component.get("items") or [] if isinstance(item, dict)]
        urls += [(place, holder.get("url")) for holder in holders if isinstance(holder, dict)]
    for index, embed in enumerate(embeds):
        if isinstance(embed, dict):
            urls += [(("embeds", index, key), (embed.get(key) or {}).get("url")) for key in ("image", "thumbnail")]
    for place, url in urls:
        if isinstance(url, str) and url.startswith("attachment://") and url.removeprefix("attachment://") not in names:
            gauge.flag(place, "UNFURLED_MEDIA_ITEM_REFERENCED_ATTACHMENT_NOT_FOUND", f"{url} is not attached.")


def _check_weight(uploads: list[Upload]) -> None:
    if any(len(upload.data) > FILE_LIMIT for upload in uploads):
        raise Refused(50045)


def _check_not_empty(
    body: Json,
    content: str | None,
    embeds: list[Any],
    components: list[Any],
    uploads: list[Upload],
    old: Message | None,
) -> None:
    has_poll = bool(body.get("poll") or body.get("sticker_ids"))
    if (content and content.strip()) or embeds or components or uploads or has_poll:
        return
    if old is None:
        raise Refused(50006)
    left = {
        "content": old.content if "content" not in body else "",
        "embeds": old.embeds if "embeds" not in body else [],
        "components": old.components if "components" not in body else [],
        "attachments": old.files if "attachments" not in body else body["attachments"] or [],
    }
    if not any(left.values()):
        raise Refused(50006)
