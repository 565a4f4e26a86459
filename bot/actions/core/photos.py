"""Photos that people hand in: looked at by content, made small, and drawn anew, so that nothing else stays in them.

A photo from a phone says where and when it was taken. What we keep is a new picture of the same pixels.
"""

import io
from hashlib import sha256
from typing import TYPE_CHECKING

from bot.rules.core.photos import KINDS, LARGEST_FILE, LARGEST_KEPT, LONGEST_SIDE, MOST_PIXELS, ways_to_keep
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.hand_in import Photo
from storage.records.request import Upload

if TYPE_CHECKING:
    from PIL import Image

_HEIC = tuple(b"ftyp" + brand for brand in (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"avif"))
"""How photos in the newer formats of phones begin, after four bytes of length (ISO/IEC 14496-12 and 23008-12)."""


def tidy_photo(upload: Upload) -> Photo:
    """The photo in a file, ready to be kept. It takes a good part of a second: not for the event loop.

    Raises:
        Refusal: `photo_not_fetched`, `photo_large` (most), `photo_pixels`, `photo_heic`, `photo_kind`.
    """
    if upload.failed:
        raise Refusal(Reason.PHOTO_NOT_FETCHED)
    if max(upload.size, len(upload.data)) > LARGEST_FILE:
        raise Refusal(Reason.PHOTO_LARGE, most=LARGEST_FILE // 1024 // 1024)
    if upload.data[4:12] in _HEIC:
        raise Refusal(Reason.PHOTO_HEIC)
    try:
        data = _drawn_anew(upload.data)
    except Refusal:
        raise
    except Exception:  # noqa: BLE001 - a broken file breaks a decoder in every way there is
        raise Refusal(Reason.PHOTO_KIND) from None
    return Photo(data=data, sha256=sha256(data).hexdigest())


def _drawn_anew(data: bytes) -> bytes:
    from PIL import Image, ImageOps

    with Image.open(io.BytesIO(data), formats=KINDS) as sent:
        if sent.width * sent.height > MOST_PIXELS:
            raise Refusal(Reason.PHOTO_PIXELS)
        ways = ways_to_keep(sent.format)
        sent.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        upright = ImageOps.exif_transpose(sent).convert("RGBA")
    # On white: what shines through would be black or chequered, depending on who looks.
    fresh = Image.new("RGB", upright.size, "white")
    fresh.paste(upright, mask=upright.getchannel("A"))
    for kind, quality in ways:
        kept = _written(fresh, kind, quality)
        if len(kept) <= LARGEST_KEPT:
            return kept
    raise Refusal(Reason.PHOTO_LARGE, most=LARGEST_FILE // 1024 // 1024)


def picture_ending(data: bytes) -> str:
    """The ending of the name of a picture that was drawn anew."""
    return "png" if data.startswith(b"\x89PNG") else "jpg"


def _written(picture: "Image.Image", kind: str, quality: int | None) -> bytes:
    file = io.BytesIO()
    picture.save(file, kind, **({} if quality is None else {"quality": quality}))
    return file.getvalue()
