"""The page of a season: what people wrote is escaped, times are those of the school, and a real browser can turn it."""

from __future__ import annotations

import shutil
from collections.abc import AsyncIterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from deploy.rehearsal.page import Figure, Season, render_page, write_page
from deploy.rehearsal.page.text import ChatText, relative, written
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.transcript import Entry
from tests.rehearsal.wire import WireBot, button, form, label, row, select, text_input, until, upload

Json = dict[str, Any]
NEW_YORK = ZoneInfo("America/New_York")
NOW = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER = next((found for name in BROWSERS if (found := shutil.which(name))), None)
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c6360606060000000050001a5f64540"
    "0000000049454e44ae426082"
)


def line(text: str) -> str:
    return ChatText(NEW_YORK).line(text, NOW)


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("**bold** and *soft* and __under__", "<strong>bold</strong> and <em>soft</em> and <u>under</u>"),
        ("<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"),
        ("**<b>**", "<strong>&lt;b&gt;</strong>"),
        ("`<i>*x*`", "<code>&lt;i&gt;*x*</code>"),
        (r"\*not soft\* \<t:1:R\>", "*not soft* &lt;t:1:R&gt;"),
        ("snake_case_name", "snake_case_name"),
        ("[site](https://a.invalid/?a=1&b=2)", '<a href="https://a.invalid/?a=1&amp;b=2" rel="noreferrer">site</a>'),
        ("[x](javascript:alert(1))", "[x](javascript:alert(1))"),
    ],
)
def test_markdown_is_read_and_everything_else_is_escaped(text: str, html: str) -> None:
    assert line(text) == html


def test_times_are_written_in_the_zone_of_the_plan() -> None:
    assert ">11 January 2027, 15:30<" in line(f"<t:{int(NOW.timestamp())}>")
    assert ">in 9 days<" in line(f"<t:{int(NOW.timestamp()) + 9 * 86400}:R>")
    summer = datetime(2027, 7, 1, 20, 30, tzinfo=UTC).astimezone(NEW_YORK)
    assert written(summer, "t") == "16:30"
    assert written(summer, "F") == "Thursday 1 July 2027, 16:30"
    assert [relative(NOW, datetime.fromtimestamp(NOW.timestamp() + s, UTC)) for s in (30, 3600, -7200)] == [
        "30 seconds ago",
        "1 hour ago",
        "in 2 hours",
    ]


def test_lists_headings_and_small_print_become_blocks() -> None:
    html = ChatText(UTC).block("# Title\nfirst\nsecond\n- one\n- **two**\n\n-# small\n> said\n```\na  b\n```", NOW)
    assert html == (
        "<p class=heading>Title</p><p>first<br>second</p><ul><li>one</li><li><strong>two</strong></li></ul>"
        "<p class=small>small</p><blockquote>said</blockquote><pre>a  b</pre>"
    )


def season(entries: list[Entry], server: ClassServer | None = None) -> Season:
    standings: list[Json] = [
        {
            "rank": 1,
            "squad": "Rubber <Turnips>",
            "total": "88.25",
            "events": {"Sock run": "90", "Bunting": None},
        },
        {"rank": None, "squad": "Drowsy Buttons", "total": None, "events": {}},
    ]
    return Season(
        "A rehearsed try-out",
        "The place went to Rubber <Turnips>.",
        "America/New_York",
        standings,
        [Figure("2", "squads")],
        entries,
        server.transcript.pictures if server else {},
    )


def test_a_missing_value_is_a_dash_and_never_a_zero() -> None:
    html = render_page(season([]))
    assert "Rubber &lt;Turnips&gt;" in html
    assert ">88.3<" in html, "half is rounded up"
    assert html.count(">–<") == 5


def test_two_different_totals_never_look_the_same() -> None:
    rows = [
        {"rank": n, "squad": f"S{n}", "total": total, "events": {}} for n, total in enumerate(("80.04", "80.01", "7"))
    ]
    html = render_page(replace(season([]), standings=rows))
    assert [f">{total}<" in html for total in ("80.04", "80.01", "7.00")] == [True] * 3


def test_names_from_the_class_cannot_break_out_of_the_page() -> None:
    evil = "</script><img src=x onerror=alert(1)>"
    body = {"blocks": [{"text": evil}, {"button": evil, "emoji": "", "style": "primary", "disabled": False}]}
    entry = Entry("2027-01-11T20:30:00.000000+00:00", evil, (evil,), evil, "private answer", evil, body)
    html = render_page(season([entry]))
    assert "<img src=x" not in html
    assert html.count("</script>") == 2


async def played(server: ClassServer, folder: Path) -> Path:
    """Play a small exchange with every kind of entry and write its page."""

    async def reply(bot: WireBot, event: Json) -> None:
        if event["type"] == 3 and event["data"]["custom_id"] == "form":
            options = [{"label": f"Level {n}", "value": str(n), "description": "d"} for n in range(3)]
            radio = {"type": 21, "custom_id": "r", "options": options}
            await bot.callback(
                event, 9, form(label(text_input("name"), "Squad name"), label(radio, "Level"), custom_id="f")
            )
        else:
            await bot.callback(event, 4, {"content": "Only **you** see this", "flags": 64})

    async with WireBot(server, reply) as bot:
        await bot.connect()
        path = f"/channels/{server.world.room('sign-up').id}/messages"
        picture = [{"id": 0, "filename": "board.png", "description": "The board"}, {"id": 1, "filename": "plan.toml"}]
        buttons = [button("Open", "form"), button("Silent", "silent", style=4), button("Full", "full", disabled=True)]
        panel = {
            "content": "Sign up <t:1800000000:R>",
            "components": [row(*buttons), row(select(3))],
            "attachments": picture,
        }
        message = (await bot.call("POST", path, data=upload(panel, PNG, b"[plan]"))).body["id"]
        await bot.call("PATCH", f"{path}/{message}", {"content": "Sign up soon"})
        await bot.call("PATCH", f"{path}/{message}", {"content": "Sign up now"})
        long = "a-very-long-word-without-any-place-to-break-" * 5
        await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": long})
        ada = Phone(server, "Ada Quill")
        shown = ada.see("sign-up")[0]
        await ada.fill((await ada.press(shown, "Open")).opened(), {"Squad name": "Moles", "Level": "Level 2"})
        await Phone(server, "Ben Marrow").choose(shown, 0, "Option 1")
    await until(lambda: not server.gateway.reachable)
    await ada.press(shown, "Silent")
    path_to_page = folder / "index.html"
    write_page(path_to_page, season(server.transcript.entries, server))
    return path_to_page


@pytest.fixture
async def page(server: ClassServer, tmp_path: Path) -> AsyncIterator[Any]:
    if BROWSER is None:
        pytest.skip(f"no headless browser found on the path (looked for {', '.join(BROWSERS)})")
    from playwright.async_api import async_playwright

    path = await played(server, tmp_path)
    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        tab = await browser.new_page(viewport={"width": 360, "height": 740})
        complaints: list[str] = []
        tab.on("console", lambda message: complaints.append(message.text))
        tab.on("pageerror", lambda error: complaints.append(str(error)))
        tab.on("request", lambda request: complaints.append(request.url) if request.url.startswith("http") else None)
        await tab.goto(path.as_uri())
        yield tab
        assert complaints == []
        await browser.close()


async def seen(tab: Any) -> str:
    """Return the text of all entries that are not hidden, also of those further down than the screen."""
    shown = "Array.from(document.querySelectorAll('#entries > li:not([hidden])'), entry => entry.textContent).join(' ')"
    return str(await tab.evaluate(shown))


async def turn_to(tab: Any, register: str, name: str, heading: str) -> None:
    """Turn the page by its index, as a reader does, and wait until it shows the new leaf."""
    await tab.click(f"summary:has-text('{register}')")
    await tab.click(f"nav a:has-text('{name}')")
    await tab.wait_for_function("text => document.getElementById('where').textContent === text", arg=heading)


async def overflow(tab: Any) -> int:
    return int(await tab.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


@pytest.mark.browser
async def test_the_page_is_turned_by_room_and_by_person_in_a_real_browser(page: Any, tmp_path: Path) -> None:
    assert await overflow(page) == 0
    await page.screenshot(path=tmp_path / "first.png", full_page=True)
    await turn_to(page, "Rooms", "news", "news")
    assert "a-very-long-word" in await seen(page)
    assert "Only you" not in await seen(page)
    assert await overflow(page) == 0
    await turn_to(page, "People", "Ben Marrow", "What Ben Marrow saw")
    text = await seen(page)
    assert "Ben Marrow chose Option 1" in text
    assert "Moles" not in text, "what Ada filled in is hers alone"
    assert "a-very-long-word" in text
    await turn_to(page, "People", "Ada Quill", "What Ada Quill saw")
    text = await seen(page)
    for expected in ("pressed Open", "Squad name", "Moles", "Level 2", "Only you see this", "No answer came in time."):
        assert expected in text
    assert await overflow(page) == 0
    await page.screenshot(path=tmp_path / "person.png", full_page=True)
    assert (tmp_path / "person.png").stat().st_size > 10_000


@pytest.mark.browser
async def test_passing_changes_are_hidden_until_asked_for_and_words_can_be_found(page: Any) -> None:
    assert "Sign up soon" not in await seen(page)
    assert "Sign up now" in await seen(page)
    await page.check("#all")
    assert "Sign up soon" in await seen(page)
    await page.fill("#find", "ONLY YOU")
    assert await page.inner_text("#which") == "2 entries"
    await page.fill("#find", "no such words")
    assert await page.is_visible("#nothing")


@pytest.mark.browser
async def test_the_page_can_be_turned_with_the_keyboard_alone(page: Any) -> None:
    await page.keyboard.press("Tab")
    assert await page.evaluate("document.activeElement.textContent") == "Skip to what everyone saw"
    await page.keyboard.press("Tab")
    await page.keyboard.press("Enter")
    await page.keyboard.press("Tab")
    await page.keyboard.press("Enter")
    await page.wait_for_function("document.activeElement.id === 'where'")
    assert await page.get_attribute("nav a[aria-current]", "href") == await page.evaluate("location.hash")


@pytest.mark.browser
async def test_pictures_and_files_are_carried_once_and_shown_wherever_they_occur(page: Any) -> None:
    await page.check("#all")
    pictures = page.locator("#entries img")
    assert await pictures.count() == 3
    sources = {await pictures.nth(n).get_attribute("src") for n in range(3)}
    assert len(sources) == 1
    assert await pictures.nth(2).evaluate("image => image.complete && image.naturalWidth") == 1
    assert await pictures.nth(0).get_attribute("alt") == "The board"
    assert "The board" in await page.inner_text("figcaption >> nth=0")
    assert await page.locator("a.file").nth(1).get_attribute("download") == "plan.toml"
    assert (await page.content()).count("data:image/png") == 3, "the page fills the copies in; the file holds one"
