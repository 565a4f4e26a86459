"""The coach's first way in a real browser: a try-out is set up, with a form refused and a stop in between."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.tryroom.browser import command, needs_browser
from tests.tryroom.walking import all_done, begin, idle, new_tab, press, send, type_line

pytestmark = [pytest.mark.asyncio(loop_scope="module"), pytest.mark.browser, pytest.mark.season, needs_browser]


ROOMS = {"Sign-up": "sign-up", "News": "news", "Squads": "squad-rooms", "Office": "coach-office"}


async def choose_channels(page: Any) -> None:
    for purpose, room in ROOMS.items():
        box = page.locator("#messages .pick", has_text=re.compile(f"^{purpose}")).last
        await box.locator("select").select_option(label=room)
        await box.get_by_role("button", name="Choose").click()
        await idle(page)


async def begin_with_a_form_that_is_refused_first(page: Any) -> None:
    await press(page, "Begin a try-out")
    await page.locator("#dialog input").first.wait_for()
    await send(page)
    assert "please fill this in" in (await page.locator("#dialog-alert").text_content() or "")
    await page.get_by_role("button", name="Fill in for me").click()
    assert not await page.locator("#dialog-alert").is_visible(), "what was missing is there"
    await page.get_by_label("Date of the brief").fill("11.1.2027")
    await page.get_by_label("Sections").fill("Blue, Green")
    await send(page)
    assert await page.locator("#steps li.done").count() == 1, "a form that was refused is not done"
    await press(page, "Correct it")
    await page.get_by_role("button", name="Fill in for me").click()
    await page.get_by_label("Sections").fill("Blue, Green")
    await send(page)


async def open_dates(page: Any) -> None:
    await type_line(page, "/office")
    await press(page, "Plan")
    await press(page, "Dates")
    await page.locator("#dialog input").first.wait_for()


async def type_half_of_a_form(page: Any) -> None:
    """A form is open when the command is stopped."""
    await open_dates(page)
    async with page.expect_response(lambda one: (one.request.post_data or "").find('"draft"') >= 0):
        await page.locator("#dialog input[type=text]").first.fill("18.1.2027")


async def find_it_again(page: Any) -> None:
    """What was typed stands there; closed on purpose, it is gone."""
    await open_dates(page)
    assert await page.locator("#dialog input[type=text]").first.input_value() == "18.1.2027"
    assert await page.locator("#dialog", has_text="before the stop is here again").count()
    await page.locator("#dialog-close").click()
    await open_dates(page)
    assert await page.locator("#dialog input[type=text]").first.input_value() != "18.1.2027"
    await page.locator("#dialog-close").click()


async def test_a_try_out_is_set_up_with_a_stop_in_between(browser: Any, tmp_path: Path) -> None:
    with command("--out", "room", folder=tmp_path) as first:
        page = await new_tab(browser)
        await begin(page, first, "Set up a try-out")
        await type_line(page, "/office")
        await begin_with_a_form_that_is_refused_first(page)
        await page.locator("#messages", has_text="is set up as a draft").wait_for()
        await type_half_of_a_form(page)
        await page.close()
    with command("--continue", "room", folder=tmp_path) as second:
        page = await new_tab(browser)
        await page.goto(second)
        await page.locator("[data-person]", has_text="Ms Okoro").click()
        await page.locator("#messages", has_text="is set up as a draft").wait_for()
        await find_it_again(page)
        await page.set_viewport_size({"width": 360, "height": 740})
        other = await new_tab(browser)
        await other.goto(second)
        first_way = other.locator("#ways li", has_text="Set up a try-out").get_by_role("button")
        assert await first_way.inner_text() == "Begin"
        await type_line(page, "/office")
        await press(page, "Choose the channels")
        await choose_channels(page)
        assert await page.locator(".wanted").inner_text() == "Open sign-up", "it leads on from here"
        await page.locator("#step-now [data-lead]:not(.off)").click()
        await page.locator("#step-now [data-lead].off").wait_for(state="attached")
        await press(page, "Open sign-up")
        await press(page, "Yes, open sign-up")
        await all_done(page)
        await first_way.filter(has_text="Past in this season").wait_for()
        await other.close()
        await page.locator("#onward-now").get_by_role("button", name="Next way: Found a squad").wait_for()
        assert await page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        assert second != first, "the key is new each time"
        await page.locator("#thumb [data-to=morning]").click()
        await idle(page)
        await page.locator("#rooms").get_by_role("button", name="sign-up").click()
        squads = page.locator("#messages li", has_text="Squads so far")
        await squads.wait_for()
        text = await squads.inner_text()
        assert "(captain)" in text and set(re.findall("Section (.+)", text)) <= {"Blue", "Green"}, text
        await begin(page, second, "Run the event day")
        await press(page, "My squad")
        await press(page, "Table")
        assert await page.locator("#messages .pick", has_text="What is measured?").count(), (
            "others have set up the rest"
        )
        await page.close()
