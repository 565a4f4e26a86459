"""Long texts on pages: nothing is lost, nothing is too long, every page can be reached."""

from hypothesis import given
from hypothesis import strategies as st

from bot.words.core.action_keys import ActionKey
from bot.words.core.pages import grouped_pages, page_line, pages, turning, within

BLOCKS = st.lists(st.text(alphabet="ab \n", max_size=300), min_size=1, max_size=12)


@given(BLOCKS, st.integers(20, 400))
def test_no_page_is_too_long_and_no_letter_is_lost(blocks: list[str], length: int) -> None:
    found = pages(blocks, length)
    assert all(len(page) <= length for page in found)
    kept = [letter for page in found for letter in page if letter in "ab"]
    assert kept == [letter for block in blocks for letter in block if letter in "ab"]


def test_what_fits_stays_on_one_page_and_whole_blocks_stay_together() -> None:
    assert pages(["one", "two"], 20) == ["one\n\ntwo"]
    assert pages(["a" * 8, "b" * 8], 12) == ["a" * 8, "b" * 8]
    assert pages(["one\ntwo\nthree"], 8) == ["one\ntwo", "three"]


def test_a_group_that_fits_stands_on_one_page_and_a_longer_one_goes_on_under_its_first_line() -> None:
    assert grouped_pages([["one", "two"], ["three"]], 30) == ["one\ntwo\n\nthree"]
    assert grouped_pages([["a" * 20], ["b" * 6, "c" * 6]], 30) == ["a" * 20, "bbbbbb\ncccccc"]
    assert grouped_pages([["Head\n" + "a" * 20, "b" * 20, "c" * 20]], 66) == [
        "Head\n" + "a" * 20 + "\n" + "b" * 20, "Head (goes on)\n" + "c" * 20,
    ]  # fmt: skip


@given(st.lists(st.lists(st.text(alphabet="ab \n", min_size=1, max_size=300), min_size=1, max_size=5), max_size=6))
def test_no_grouped_page_is_too_long_and_no_part_that_fits_is_cut(groups: list[list[str]]) -> None:
    found = grouped_pages(groups, 600)
    assert all(len(page) <= 600 for page in found)
    assert all(any(part in page for page in found) for group in groups for part in group if len(part) <= 400)


def test_pages_are_turned_only_where_there_are_several() -> None:
    assert turning(ActionKey.BRIEF_PAGE, 0, 1) == () and page_line(0, 1) == ""
    back, onward = turning(ActionKey.BRIEF_PAGE, 1, 4, main=True)
    assert (back.label, back.key, back.style) == ("Back to page 1", "brief.page:0", "plain")
    assert (onward.label, onward.key, onward.style) == ("Next page 3 of 4", "brief.page:2", "main")
    assert [button.label for button in turning(ActionKey.BRIEF_PAGE, 0, 2)] == ["Next page 2 of 2"]
    assert [button.label for button in turning(ActionKey.BRIEF_PAGE, 1, 2)] == ["Back to page 1"]
    assert [within(page, 3) for page in (-1, 0, 2, 9)] == [0, 0, 2, 2]
