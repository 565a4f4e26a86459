"""Photos that people hand in: which kinds are taken, how large a file may be, and how small it is kept."""

KINDS = ("PNG", "JPEG", "WEBP")
"""By the names of the drawing library; people are told in the words of the same name."""
LARGEST_FILE = 8 * 1024 * 1024
"""Bytes of a file that is taken at all; photos of phones have 2 to 6 million."""
MOST_PIXELS = 16_000_000
"""A small file can claim very many, to fill the memory: it is asked for its size before it is decoded."""
LONGEST_SIDE = 1600
JPEG_QUALITIES = (85, 70, 50)
"""Tried in this order until the file is small enough; what is drawn (a PNG) is kept as it is where that is small."""
LARGEST_KEPT = 2_000_000
"""Bytes that are kept, so that ten of them fit into one message."""
