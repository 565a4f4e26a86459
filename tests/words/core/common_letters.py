"""Makes the files of common letters out of the whole ones: `python -m tests.words.core.common_letters`."""

from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from bot.words.core.font_files import fonts

NAMES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
COMMON = frozenset(
    code
    for first, last in (
        (0x20, 0x7E),  # Basic Latin
        (0xA0, 0x17F),  # Latin-1 and Latin Extended-A
        (0x218, 0x21B),  # Romanian
        (0x2010, 0x203A),  # dashes, quotation marks, bullets
        (0x20AC, 0x20AC),  # the euro
        (0x2190, 0x2193),  # arrows
        (0x2212, 0x2212),  # minus
    )
    for code in range(first, last + 1)
)
"""By code point: what English and most languages of Europe that use Latin letters are written with."""
UNUSED = ["GDEF", "GPOS", "GSUB", "kern", "FFTM"]
"""Tables of the format that our papers do not use: they have letters placed one by one."""


def make(folder: Path) -> None:
    """Put the files into a folder."""
    for name in NAMES:
        options = Options(notdef_outline=True, recommended_glyphs=True, glyph_names=False)
        options.drop_tables += UNUSED
        subsetter = Subsetter(options)
        subsetter.populate(unicodes=COMMON)
        # The frame of the letters is told in every paper: it stays that of all of them.
        with TTFont(fonts() / name, lazy=True, recalcTimestamp=False, recalcBBoxes=False) as whole:
            subsetter.subset(whole)
            whole.save(folder / name)


if __name__ == "__main__":
    make(fonts() / "common")
