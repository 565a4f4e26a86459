"""The top of the season's page: standings and why, what moments are called, and how it looks without a script."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.page import render_page, write_page
from deploy.rehearsal.page.standings_table import why
from tests.rehearsal.test_season_page_in_the_browser import in_the_browser, said, season


def test_a_missing_value_is_a_dash_and_never_a_zero() -> None:
    html = render_page(season([said("hello")]))
    assert "Rubber &lt;Turnips&gt;" in html
    assert ">88.3<" in html, "half is rounded up"
    assert html.count(">–<") == 5


def test_two_different_totals_never_look_the_same() -> None:
    rows = [
        {"rank": n, "squad": f"S{n}", "total": total, "events": {}} for n, total in enumerate(("80.04", "80.01", "7"))
    ]
    html = render_page(replace(season([said("hello")]), standings=rows))
    assert [f">{total}<" in html for total in ("80.04", "80.01", "7.00")] == [True] * 3


def test_why_counts_in_points_of_the_total_and_names_what_was_level() -> None:
    """40 % of 10 points are 4.0, 30 % of 5 are 1.5: worked out by hand."""
    first = {"total": "1", "events": {"Run": "90", "Flags": "80", "Chain": "70", "New": "1"}}
    second = {"total": "1", "events": {"Run": "80", "Flags": "85", "Chain": "70", "New": None}}
    shares = {"Run": 0.4, "Flags": 0.3, "Chain": 0.3, "New": 0.1}
    assert why(first, second, shares) == "+4.0 in Run, −1.5 in Flags, level in Chain"
    assert why(second, first, shares).startswith("−4.0 in Run, +1.5 in Flags")
    assert why(first, None, shares) == why({"total": None, "events": {}}, second, shares) == ""


@pytest.mark.parametrize(
    ("text", "title"),
    [
        (
            "\u23f0 **Day 1 of 10.** 9 school days left. The deadline is <t:1800000000:F>.",
            "\u23f0 Day 1 of 10. 9 school days left.",
        ),
        ("\u23f0 The last hour. Deadline: <t:1800000000:R>", "\u23f0 The last hour."),
        ("Deadline: <t:1800000000:R>", "Deadline"),
        (
            "\U0001f4dd @Bruno P, @Celia M and @Dov K: you are asked to be a judge of Moles.",
            "\U0001f4dd you are asked to be a judge of Moles.",
        ),
        (
            "\U0001f4e2 It is being checked again. What was announced does not hold meanwhile.",
            "\U0001f4e2 It is being checked again.",
        ),
        ("Answers so far, the same for everyone:", "Answers so far, the same for everyone"),
        (f"{'word ' * 14}end.", f"{'word ' * 12}…"),
    ],
)
def test_a_moment_is_called_by_whole_sentences_that_fit(text: str, title: str) -> None:
    page = render_page(season([said(text)]))
    assert f'<a href="#e0">{title} <span class=hint>15:30</span></a>' in page


@in_the_browser
async def test_without_a_script_all_of_the_standings_are_there_and_nothing_that_would_do_nothing(
    browser: Any, tmp_path: Path
) -> None:
    made = season([])
    squads = [{**made.standings[0], "rank": rank, "squad": f"Squad {rank}"} for rank in range(1, 6)]
    write_page(tmp_path / "index.html", replace(made, standings=squads))
    context = await browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 740})
    tab = await context.new_page()
    await tab.goto((tmp_path / "index.html").as_uri())
    shown = await tab.locator("body").inner_text()
    assert "Squad 5" in shown and "this browser does not run" in shown
    assert await tab.locator("button:visible, main a:visible, .cards a:visible").count() == 0
    await context.close()
