"""Papers: the common letters are those of the whole font, and no letter that it has is missing."""

import io
from datetime import UTC, datetime

import pypdf
import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from bot.words.core import font_files, printed_text
from tests.words.core.common_letters import COMMON, NAMES

NOW = datetime(2027, 1, 4, tzinfo=UTC)


def shape(font: TTFont, code: int) -> tuple[float, object]:
    """How wide a letter is, and its outline."""
    glyphs, name = font.getGlyphSet(), font.getBestCmap()[code]
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    return glyphs[name].width, pen.value


@pytest.mark.parametrize("name", NAMES)
def test_common_letters_are_those_of_the_whole_font(name: str) -> None:
    with TTFont(font_files.fonts() / "common" / name) as common, TTFont(font_files.fonts() / name) as whole:
        letters = COMMON & set(whole.getBestCmap())
        assert set(common.getBestCmap()) == letters
        assert {code for code in letters if shape(common, code) != shape(whole, code)} == set()


def test_a_paper_with_common_letters_is_the_same_as_with_all_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    def made() -> bytes:
        return printed_text.pdf("Zoë", [("Łódź – “Ready”", ["Three socks → 5 points. " * 20])], "a4", NOW)

    common = made()
    monkeypatch.setattr(font_files, "COMMON", ".")
    assert made() == common


@pytest.mark.parametrize("text", ["Σωκράτης", "Наташа", "Ђурђа 我"])
def test_letters_that_are_not_common_are_written_too(text: str) -> None:
    made = pypdf.PdfReader(io.BytesIO(printed_text.pdf("Zoë", [("Names", [text])], "a4", NOW)))
    assert text.removesuffix(" 我") in made.pages[0].extract_text()
