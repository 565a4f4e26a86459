"""What a hand does on the page of the try-it room."""

from __future__ import annotations

import re
from typing import Any

LONG = 120_000
"""Milliseconds that anything may take to come, on a busy machine."""


async def new_tab(browser: Any, **how: Any) -> Any:
    """A page in a window of its own, waited for as long as a busy machine needs."""
    tab = await browser.new_page(**how)
    tab.set_default_timeout(LONG)
    return tab


async def begin(page: Any, address: str, title: str) -> None:
    await page.goto(address)
    await page.locator("#ways li", has_text=title).get_by_role("button").click()
    await page.locator("#way:not([hidden])").wait_for(timeout=LONG)
    await idle(page)


IDLE = """() => new Promise((done) => {
    const look = () => document.querySelector("[aria-busy=true]") || done(watch.disconnect());
    const watch = new MutationObserver(look);
    watch.observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ["aria-busy"] });
    look();
})"""
"""Waits in the page itself: whoever asked again and again would keep busy what it waits for."""


async def idle(page: Any) -> None:
    await page.evaluate(IDLE)


async def press(page: Any, label: str | re.Pattern[str]) -> None:
    exact = isinstance(label, str)
    await page.locator("#messages").get_by_role("button", name=label, exact=exact).last.click()
    await idle(page)


async def choose(page: Any, select: str, place: int) -> None:
    box = page.locator("#messages .pick", has_text=select).last
    await box.locator("select").select_option(index=place)
    await box.get_by_role("button", name="Choose").click()
    await idle(page)


async def send(page: Any) -> None:
    await page.locator("#dialog-send").click()
    await idle(page)


async def type_line(page: Any, line: str) -> None:
    await page.fill("#typed", line)
    await page.press("#typed", "Enter")
    await idle(page)


def _open(page: Any) -> Any:
    """The steps that are not ticked off yet, without the line that says that all are."""
    return page.locator("#steps li:not(.done)").filter(has_not_text="You have done it")


async def open_steps(page: Any) -> int:
    """How many steps are not ticked off yet, after a moment in which what follows from a press may have come."""
    await page.wait_for_timeout(200)
    return int(await _open(page).count())


async def all_done(page: Any) -> None:
    """Wait until every step is ticked off."""
    await page.locator("#steps li").first.wait_for()
    await _open(page).first.wait_for(state="detached")
