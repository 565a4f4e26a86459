"""Printable score sheets, read and drawn by independent tools."""

import io
import shutil
import subprocess
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import pypdf
import pytest

from bot.rules.core.paper_size import paper_size
from bot.words.judging import paper_sheet_print as words
from bot.words.judging.paper_sheet_print import Page, score_sheets_pdf
from storage.records.people import Judge
from storage.records.plan import Event, Plan
from storage.records.plan_limits import LEVELS
from storage.records.plan_measures import Criterion, Rubric
from tests.actions.conftest import small_plan
from tests.words.core.test_printed_sheets import text_places
from tests.words.invented import squad

NOW = datetime(2027, 1, 4, tzinfo=UTC)
JUDGE = Judge(id=1, tryout_id=1, number=2, platform_id=5, name="Zoë Přibyl")
LONG = "What is seen here is told at such length that it takes a hundred characters, which is the most there"


def rubric(criteria: int, levels: int, text: str, comments: Literal["sheet", "criterion"] = "sheet") -> Rubric:
    return Rubric(
        key="bunting",
        name="What the flags say",
        comments=comments,
        criteria=tuple(
            Criterion(
                key=f"c{number}",
                name=f"Line {number} of the rubric",
                levels=tuple(f"{level}: {text}"[:100] for level in range(1, levels + 1)),
            )
            for number in range(criteria)
        ),
    )


def printed(rubric: Rubric, squads: int = 1, large: bool = False, plan: Plan | None = None) -> pypdf.PdfReader:
    event = Event.model_validate({"key": "bunting", "name": "Bunting", "weight": 30, "measures": (rubric,)})
    pages = [Page(squad(number, f"Ракета {number} Ω"), event, rubric) for number in range(1, squads + 1)]
    data = score_sheets_pdf(plan or small_plan(), "1a2b3c4d5e6f", JUDGE, pages, NOW, large)
    return pypdf.PdfReader(io.BytesIO(data))


def text_of(page: pypdf.PageObject) -> str:
    return " ".join(page.extract_text().split())


def test_the_file_says_how_many_sheets_there_are_and_in_which_order() -> None:
    own, theirs = (words.printed(JUDGE, 28, False, b"", own) for own in (True, False))
    assert own.files[0].alt == "Printable score sheets of judge 2: 28 sheets."
    assert own.text == "Here are your score sheets: 28 sheets. Squads stand in the order of your list."
    assert theirs.text.endswith("28 sheets. Squads stand in the order of this judge's list.")


def test_each_squad_has_one_page_with_everything_a_judge_needs() -> None:
    found = printed(rubric(5, 4, "seen now and then"), squads=3)
    assert len(found.pages) == 3
    for number, page in enumerate(found.pages, start=1):
        text = text_of(page)
        assert f"Squad {number}: Ракета {number} Ω" in text
        assert "Judge 2: Zoë Přibyl" in text and "plan 1a2b3c4d" in text
        assert all(f"Line {line} of the rubric" in text for line in range(5))
        assert text.count("seen now and then") == 20
        assert "Comment: what you saw" in text


def test_the_page_is_the_paper_of_the_country() -> None:
    assert paper_size(small_plan()) == "letter"
    assert paper_size(small_plan(zone="Europe/London")) == "a4"
    page = printed(rubric(1, 3, "x"), plan=small_plan(zone="Europe/London")).pages[0]
    assert (round(page.mediabox.width), round(page.mediabox.height)) == (595, 842)


@pytest.mark.parametrize("criteria", [1, 4, 8])
def test_letters_shrink_until_a_long_rubric_fits_one_page(criteria: int) -> None:
    found = printed(rubric(criteria, 5, LONG))
    assert len(found.pages) == 1
    assert len(smallest(found)) >= 1 and min(smallest(found)) >= 6.5


def smallest(found: pypdf.PdfReader) -> set[float]:
    sizes: set[float] = set()
    for page in found.pages:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: sizes.add(size) if text.strip() else None)
    return sizes


def test_large_print_is_never_smaller_than_14_points_where_there_is_something_to_read() -> None:
    found = printed(rubric(5, 4, LONG), large=True)
    sizes: dict[str, float] = {}
    for page in found.pages:
        page.extract_text(visitor_text=lambda text, cm, tm, font, size: sizes.update({text.strip(): size}))
    descriptors = [size for text, size in sizes.items() if "What is seen" in text]
    assert descriptors and min(descriptors) >= 14


def test_what_does_not_fit_goes_on_with_the_name_of_the_squad_on_top() -> None:
    found = printed(rubric(8, 6, LONG, "criterion"), large=True)
    assert len(found.pages) > 1
    assert all("Squad 1: Ракета 1 Ω" in text_of(page) for page in found.pages)
    text = " ".join(map(text_of, found.pages))
    assert all(text.count(f"Line {line} of the rubric") == 1 for line in range(8))


def test_the_same_sheets_are_the_same_file() -> None:
    one, two = (printed(rubric(2, 3, "x")).stream for _ in range(2))
    assert one.seek(0) == two.seek(0) == 0
    assert one.read() == two.read()


def test_the_numbers_to_ring_stand_in_the_middle_of_their_boxes() -> None:
    event = Event.model_validate(
        {"key": "p", "name": "Patch", "weight": 1, "measures": (rubric(1, LEVELS.most, "seen"),)}
    )
    page = Page(squad(1, "Crooked Spoons"), event, rubric(1, LEVELS.most, "seen"))
    places = {text: x for x, _, text in text_places(score_sheets_pdf(small_plan(), None, JUDGE, [page], NOW))}
    box = (612 - 2 * 12 * 72 / 25.4) / LEVELS.most
    # DejaVu Sans Bold: each digit is 1425 of 2048 units wide.
    half = 11 * 1.3 * 1425 / 2048 / 2
    for number in range(1, LEVELS.most + 1):
        assert places[str(number)] + half == pytest.approx(12 * 72 / 25.4 + box * (number - 0.5), abs=0.05)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="no independent PDF renderer (poppler) is installed")
@pytest.mark.parametrize("large", [False, True])
def test_an_independent_program_draws_ink_inside_the_margins_and_none_outside(tmp_path: Path, large: bool) -> None:
    from PIL import Image

    event = Event.model_validate({"key": "p", "name": "Patch", "weight": 1, "measures": (rubric(5, 4, LONG),)})
    page = Page(squad(1, "Crooked Spoons"), event, rubric(5, 4, LONG))
    (tmp_path / "sheet.pdf").write_bytes(score_sheets_pdf(small_plan(), None, JUDGE, [page], NOW, large))
    command = ["pdftoppm", "-r", "50", "-gray", "-png", str(tmp_path / "sheet.pdf"), str(tmp_path / "page")]
    subprocess.run(command, check=True, timeout=60)
    for drawn in sorted(tmp_path.glob("page*.png")):
        with Image.open(drawn) as picture:
            ink = picture.point(lambda shade: 255 if shade < 200 else 0)
            box = ink.getbbox()
            assert box is not None
            margin = int(10 / 25.4 * 50)
            assert box[0] >= margin and box[1] >= margin
            assert box[2] <= picture.width - margin and box[3] <= picture.height - margin
