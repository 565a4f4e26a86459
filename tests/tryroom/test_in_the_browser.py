"""The page in a real browser: the guided ways are walked, two windows see each other, and nothing told is lost."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator, Iterator
from typing import Any

import pytest
import pytest_asyncio

from bot.words.plan.builtin_plan import builtin_plan_text
from tests.tryroom.browser import axe_script, command, needs_browser
from tests.tryroom.walking import all_done, begin, choose, idle, new_tab, open_steps, press, send, type_line

TRIES = 40
pytestmark = [pytest.mark.asyncio(loop_scope="module"), pytest.mark.browser, pytest.mark.season, needs_browser]


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("try")
    plan = builtin_plan_text().replace("days = 10", "days = 1").replace(', "7 Cedar", "8 Elm", "8 Fir"]', "]")
    (folder / "short.toml").write_text(plan, "utf-8")
    with command("--plan", "short.toml", folder=folder) as where:
        yield where


@pytest_asyncio.fixture(loop_scope="module")
async def page(browser: Any) -> AsyncIterator[Any]:
    tab = await new_tab(browser, viewport={"width": 1280, "height": 900})
    faults: list[str] = []
    tab.on("pageerror", lambda fault: faults.append(str(fault)))
    tab.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    yield tab
    await tab.close()
    assert faults == []


async def test_a_student_founds_a_squad_on_a_narrow_phone(page: Any, address: str) -> None:
    await page.set_viewport_size({"width": 360, "height": 740})
    await begin(page, address, "Found a squad")
    await press(page, "Start a squad")
    await page.get_by_label("Name of your squad").fill("Crooked Spoons")
    await page.get_by_label("Your section").select_option(index=1)  # in whatever section: friends come along
    await send(page)
    await press(page, "My squad")
    assert await page.locator("#messages .private").last.is_visible()
    await page.locator("#thumb .wanted", has_text="Next thing").wait_for()
    for _ in range(12):
        if not await open_steps(page):
            break
        await page.locator("#thumb [data-to=next]").click()
        await idle(page)
    await all_done(page)
    assert await page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    await page.locator("#told").get_by_role("button", name="Crooked Spoons").click()
    await page.locator("#messages li", has_text="has joined").wait_for()
    await page.locator("#onward-now").get_by_role("button", name="Put away").click()
    await page.locator("#step-now").wait_for(state="hidden")
    await page.locator("#rooms").get_by_role("button", name="sign-up").click()
    await page.locator("#messages .to-room", has_text="Crooked Spoons").last.click()
    await page.locator("#place", has_text="Crooked Spoons").wait_for()


async def test_two_windows_see_each_other(page: Any, browser: Any, address: str) -> None:
    await page.goto(address)
    other = await new_tab(browser)
    await other.goto(address)
    for tab, name in ((page, "Ms Okoro"), (other, "Robin T")):
        await tab.locator("[data-person]", has_text=name).click()
        await tab.locator("#rooms").get_by_role("button", name="squad-rooms").click()
    await type_line(other, "Is <b>anybody</b> here?")
    said = page.locator("#messages li", has_text="Is <b>anybody</b> here?")
    await said.wait_for()
    assert await page.locator("#messages b", has_text="anybody").count() == 0, "what people write stays a text"
    await other.close()


async def test_a_form_that_was_open_over_a_power_cut_is_still_good(page: Any, browser: Any, address: str) -> None:
    switch = await new_tab(browser)
    await switch.goto(address)
    await switch.locator("[data-person]", has_text="Robin T").click()

    async def power(*, on: bool) -> None:
        await switch.locator("[data-break=power]").click()
        await switch.locator(f"[data-break=power][aria-pressed={'false' if on else 'true'}]").wait_for()

    await begin(page, address, "Found a squad")
    await press(page, "I need a squad")
    await page.get_by_label("Your section").select_option(index=1)
    await power(on=False)
    await send(page)
    assert "still here" in (await page.locator("#dialog-alert").text_content() or "")
    await power(on=True)
    await send(page)
    await page.locator("dialog:not([open])").wait_for(state="attached")
    assert await page.locator("#messages .private").last.is_visible()
    await power(on=False)
    await press(page, "My squad")
    assert "without power" in (await page.locator("#alert").text_content() or "")
    await type_line(page, "/my-squad")
    assert await page.input_value("#typed") == "/my-squad", "what was not done is not lost"
    await power(on=True)
    await press(page, "My squad")
    assert not await page.locator("#alert").is_visible()
    await switch.close()


async def test_with_a_bad_network_and_a_full_disk_one_presses_again_and_nothing_is_there_twice(
    page: Any, browser: Any, address: str
) -> None:
    switch = await new_tab(browser)
    await switch.goto(address)
    await switch.locator("[data-person]", has_text="Robin T").click()

    async def broken(what: str, *, on: bool) -> None:
        await switch.locator(f"[data-break={what}]").click()
        await switch.locator(f"[data-break={what}][aria-pressed={str(on).lower()}]").wait_for()

    async def until(done: str, *labels: str) -> None:
        for _ in range(TRIES):
            if await page.locator("#messages", has_text=done).count():
                return
            if await page.locator("dialog[open]").count():
                await send(page)
            else:
                await press(page, labels[0])
                if await page.locator("dialog[open]").count():
                    await page.get_by_label("Name of your squad").fill("Quiet Kettles")
                    await page.get_by_label("Your section").select_option(index=1)
        raise AssertionError(await page.locator("#messages").inner_text())

    await begin(page, address, "Found a squad")
    await broken("disk", on=True)
    await press(page, "Start a squad")
    if await page.locator("dialog[open]").count():
        await page.get_by_label("Name of your squad").fill("Quiet Kettles")
        await page.get_by_label("Your section").select_option(index=1)
        await send(page)
    assert "cannot save anything" in await page.locator("#messages .private").last.inner_text()
    assert "the disk is full" in await page.locator("#broken").inner_text()
    await broken("disk", on=False)
    await broken("network", on=True)
    await until("Quiet Kettles", "Start a squad")
    await broken("network", on=False)
    await press(page, "My squad")
    assert "Quiet Kettles" in await page.locator("#messages .private").last.inner_text()
    board = await page.locator("#messages").inner_text()
    assert board.count("Quiet Kettles (") <= 1, "it stands on the board once"
    await switch.close()


async def test_what_can_be_typed_after_a_command_is_suggested(page: Any, address: str) -> None:
    await page.goto(address)
    await page.locator("[data-person]", has_text="Ms Okoro").click()
    await page.locator("#rooms").get_by_role("button", name="coach-office").click()
    await type_line(page, "/why")
    await page.locator("#dialog input[list]").first.fill("1")
    await page.locator("#dialog datalist option").first.wait_for(state="attached")
    await page.keyboard.press("Escape")


async def test_no_screen_has_a_barrier_that_a_program_finds(browser: Any, address: str) -> None:
    axe = axe_script()
    for width, scheme in ((1280, "light"), (360, "dark")):
        context = await browser.new_context(
            bypass_csp=True, color_scheme=scheme, viewport={"width": width, "height": 800}
        )
        page = await new_tab(context)
        found: dict[str, list[str]] = {}

        async def look(screen: str, page: Any = page, found: dict[str, list[str]] = found) -> None:
            await page.evaluate(axe)
            result = await page.evaluate("axe.run()")
            found[screen] = [f"{one['id']}: {one['nodes'][0]['html'][:100]}" for one in result["violations"]]

        await page.goto(address)
        await page.locator("#ways li").first.wait_for()
        await look("start")
        if width > 1000:
            assert found == {"start": []}
            await context.close()
            continue
        await page.locator("[data-person]", has_text="Ms Okoro").click()
        await page.locator("#rooms button").first.wait_for()
        await look("room")
        await type_line(page, "/office")
        await look("private answer")
        await page.locator("#all-commands").click()
        await look("commands")
        await page.keyboard.press("Escape")
        await page.locator("#rooms").get_by_role("button", name="news").click()
        await page.locator("#place", has_text="news").wait_for()
        await look("news")
        assert found == {key: [] for key in found}
        await context.close()


async def mark(page: Any, label: str) -> None:
    """One part of a score sheet, filled in and sent."""
    await press(page, re.compile(f"^{label}"))
    for field in await page.locator("#dialog fieldset").all():
        await field.locator("input").nth(2).check()
    await send(page)


async def test_a_judge_marks_three_squads(page: Any, address: str) -> None:
    await begin(page, address, "Mark three squads")
    await page.locator("#messages .wanted", has_text="Next: ").wait_for()
    await press(page, re.compile("^See their "))
    assert not re.search(r": 0 of \d+ parts", await page.locator("#messages .private").last.inner_text()), "handed in"
    await press(page, re.compile("^Next: "))
    await send(page)
    assert await open_steps(page) == 4, "an empty form marks nothing"
    for _ in range(12):
        if await open_steps(page) <= 1:
            break
        await mark(page, "Go on: " if await page.locator("#messages > li", has_text="Go on: ").count() else "Next: ")
    await press(page, "My sheets")
    await all_done(page)


async def test_the_scorekeeper_runs_the_event_day_on_a_narrow_phone(page: Any, address: str) -> None:
    await page.set_viewport_size({"width": 360, "height": 740})
    await begin(page, address, "Run the event day")
    for squad in (1, 2):
        await type_line(page, "/my-squad")
        await press(page, "Table")
        if squad == 1:
            await choose(page, "What is measured?", 2)
            assert await page.locator("#steps li.done").count() == 1, "that is not counted, and the way waits"
            await press(page, "Another measure")
        await choose(page, "What is measured?", 1)
        await choose(page, "Which squad is at the table?", squad)
        await press(page, "Who is here")
        await send(page)
        await press(page, "Run pad")
        await press(page, "Start the clock")
        if squad == 1:
            await press(page, "Check the safety lines")
            await press(page, re.compile("^Checked by me"))
            await press(page, "Back to the pad")
            await press(page, "Start the clock")
        for _ in range(3):
            await press(page, re.compile(r"^\+1 "))
        await press(page, "Finish")
        await press(page, "Counted aloud, agreed: save")
    await all_done(page)
    assert await page.evaluate("document.documentElement.scrollWidth <= innerWidth")


SEEN_ROOMS = """() => {
    const box = document.querySelector("#rooms").getBoundingClientRect();
    const tabs = Array.from(document.querySelectorAll("#rooms .tab"), (tab) => tab.getBoundingClientRect());
    return tabs.filter((tab) => tab.top >= box.top - 1 && tab.bottom <= box.bottom + 1 && tab.left >= 0 &&
        tab.right <= innerWidth).length;
}"""
"""How many rooms are wholly in sight, without a swipe."""


async def test_on_a_narrow_phone_the_coach_sees_all_rooms_without_a_swipe(page: Any, address: str) -> None:
    await page.set_viewport_size({"width": 360, "height": 740})
    await page.goto(address)
    await page.locator("[data-person]", has_text="Ms Okoro").click()
    tabs, folded = page.locator("#rooms .tab"), page.locator("#all-rooms[aria-expanded=false]")
    await folded.wait_for()
    many = await tabs.count()
    assert 0 < await page.evaluate(SEEN_ROOMS) < many
    await folded.click()
    assert await page.evaluate(SEEN_ROOMS) == many, "all of them, one below the other"
    name = await tabs.last.locator("span").first.inner_text()
    await tabs.last.click()
    await page.locator("#place", has_text=name).wait_for()
    await folded.wait_for()
    here, box = await page.locator("#rooms [aria-current]").bounding_box(), await page.locator("#rooms").bounding_box()
    assert box["y"] - 1 <= here["y"] < box["y"] + box["height"], "the open room stays in sight"
    assert box["height"] < 100
    assert await page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    await page.set_viewport_size({"width": 1280, "height": 900})
    await page.locator("#all-rooms").wait_for(state="hidden")
    assert await page.evaluate(SEEN_ROOMS) == many


async def test_the_coach_announces_with_the_keyboard_alone(page: Any, address: str) -> None:
    await begin(page, address, "Announce the result")

    async def enter(label: str) -> None:
        button = page.locator("#messages").get_by_role("button", name=label, exact=True).last
        await button.focus()
        await page.keyboard.press("Enter")
        await idle(page)

    assert not await page.locator("#messages .private").count(), "what others did in one's name is not in the way"
    await page.locator("#typed").focus()
    await page.keyboard.type("/office")
    await page.keyboard.press("Enter")
    await idle(page)
    for label in ("Judges", "Close judging", "Close judging", "See the standings"):
        await enter(label)
    await page.wait_for_function(
        """() => { const last = document.querySelector("#messages > li:last-child");
        const top = last.getBoundingClientRect().top;
        return last.innerText.includes("The table") && top > 0 && top < innerHeight / 2; }"""
    )
    for label in ("Announce", "Announce now"):
        await enter(label)
    await all_done(page)
    await page.locator("#rooms").get_by_role("button", name="news").focus()
    await page.keyboard.press("Enter")
    await page.locator("#place", has_text="news").wait_for()
    assert await page.evaluate("document.activeElement.closest('#rooms, #place') !== null"), "focus stays where one is"
    await page.goto(f"{address}season")
    await page.locator(".entry").first.wait_for()
    assert "won with" in await page.locator("header").inner_text()
