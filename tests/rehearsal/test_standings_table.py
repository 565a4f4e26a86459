"""The standings of the season's page: how numbers are rounded, and why a squad stands before the next."""

from __future__ import annotations

from dataclasses import replace

from deploy.rehearsal.page import render_page
from deploy.rehearsal.page.standings_table import why
from tests.rehearsal.test_season_page_in_the_browser import said, season


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
