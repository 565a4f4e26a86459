"""The season's page: what moments are called, and how it looks without a script."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.page import render_page, write_page
from tests.rehearsal.test_season_page_in_the_browser import in_the_browser, said, season


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
