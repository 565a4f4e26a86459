"""Photos that people hand in: which kinds are taken, how large a file may be, and how small it is kept."""

KINDS = ("PNG", "JPEG", "WEBP")
"""By the names of the drawing library; people are told in the words of the same name."""
LARGEST_FILE = 8 * 1024 * 1024
"""Bytes of a file that is taken at all; photos of phones have 2 to 6 million."""
MOST_PIXELS = 16_000_000
"""A small file can claim very many, to fill the memory: it is asked for its size before it is decoded."""
LONGEST_SIDE = 1600
JPEG_QUALITIES = (85, 70, 50)
"""Tried in this order until the file is small enough."""
LARGEST_KEPT = 2_000_000
"""Bytes that are kept, so that ten of them fit into one message."""


def ways_to_keep(kind: str | None) -> list[tuple[str, int | None]]:
    """As which kinds, with which quality, a photo of this kind is kept: the first whose file is small enough.

    What was drawn is mostly a PNG, and stays one.
    """
    drawn: list[tuple[str, int | None]] = [("PNG", None)] if kind == "PNG" else []
    return [*drawn, *(("JPEG", quality) for quality in JPEG_QUALITIES)]
