"""The page of a season: what people wrote is escaped, times are those of the school, and a real browser can turn it."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import pytest_asyncio

from deploy.rehearsal.page import Card, Figure, Person, Season, render_page, write_page
from deploy.rehearsal.page.carried_data import carried_files, carried_texts, season_data
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.state import File
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot, button, form, label, row, select, text_input, until, upload
from tests.tryroom.browser import needs_browser

Json = dict[str, Any]


def in_the_browser(check: Callable[..., Any]) -> Any:
    """Mark a check that opens the page in a real browser."""
    for mark in (pytest.mark.asyncio(loop_scope="module"), pytest.mark.browser, needs_browser):
        check = mark(check)
    return check


PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000d49444154789c6360606060000000050001a5f64540"
    "0000000049454e44ae426082"
)
AT = "2027-01-11T20:30:00.000000+00:00"
EVIL = "</script><img src=x onerror=alert(1)>"


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
        ["The place went to Rubber <Turnips>."],
        "America/New_York",
        standings,
        entries,
        server.transcript.pictures if server else {},
        [
            Person("Ms Holloway", "coach", "Who runs it"),
            Person("Ada Quill", "", "Moles"),
            Person("Ben Marrow", "", "Moles"),
        ],
        news="news",
        figures=[Figure("2", "squads")],
        cards=[Card("Ada", "a student", person="Ada Quill")],
    )


def said(text: str, number: int = 1, kind: str = "message", room: str = "news", place: int = 7) -> Entry:
    return Entry(
        AT, room, ("Ada Quill", "Ben Marrow"), "", kind, "Tenbell", {"blocks": [{"text": text}]}, number, place
    )


def test_names_from_the_class_cannot_break_out_of_the_page() -> None:
    body = {"blocks": [{"text": EVIL}, {"button": EVIL, "emoji": "", "style": "primary", "disabled": False}]}
    entry = Entry(AT, EVIL, (EVIL,), EVIL, "private answer", EVIL, body)
    public = Entry(AT, "news", (EVIL,), "", "message", EVIL, body)
    made = replace(season([entry, public]), people=[Person(EVIL, EVIL, EVIL)], cards=[Card(EVIL, EVIL, person=EVIL)])
    html = render_page(made)
    assert "<img src=x" not in html
    assert html.count("</script>") == 3


def test_the_same_season_is_the_same_page_byte_for_byte() -> None:
    assert render_page(season([said("one"), said("two", 2)])) == render_page(season([said("one"), said("two", 2)]))


def test_a_renamed_room_stands_once_under_its_newest_name() -> None:
    entries = [
        said("a", room="squad 1 - Moles"),
        said("b", 2, room="squad 1 - Otters"),
        said("c", 3, room="x", place=8),
    ]
    data = season_data(season(entries))
    assert data["rooms"] == ["squad 1 - Otters", "x"]
    assert [entry[1] for entry in data["entries"]] == [0, 0, 1]


def test_a_file_is_carried_once_and_only_where_somebody_saw_it(server: ClassServer) -> None:
    used, unused = (File(n, f"{n}.png", PNG + bytes([n]), "image/png", 1, server.world.now) for n in (1, 2))
    large = File(3, "large.csv", bytes(300_000), "text/csv", 1, server.world.now)
    keys = [server.transcript.file_key(file) for file in (used, unused, large)]
    blocks = [
        {"file": "x", "sha256": key, "type": "image/png", "description": ""} for key in (keys[0], keys[0], keys[2])
    ]
    entry = Entry(AT, "news", ("Ada Quill",), "", "message", "Tenbell", {"blocks": blocks})
    assert list(carried_files(season([entry], server))) == [keys[0]]
    assert carried_texts(season([entry], server)) == {}, "too large to carry"


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


@pytest_asyncio.fixture(scope="module", loop_scope="module")
async def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    async with small_class(ClassServer(START)) as running:
        path = await played(running, tmp_path_factory.mktemp("page"))
        assert [v for v in running.request_log.violations if v.problem.startswith(("answer", "event"))] == []
    return path.as_uri()


@pytest_asyncio.fixture(loop_scope="module")
async def page(browser: Any, address: str) -> AsyncIterator[Any]:
    tab = await browser.new_page(viewport={"width": 360, "height": 740})
    tab.set_default_timeout(120_000)
    complaints: list[str] = []
    tab.on("console", lambda message: complaints.append(message.text))
    tab.on("pageerror", lambda error: complaints.append(str(error)))
    tab.on("request", lambda request: complaints.append(request.url) if request.url.startswith("http") else None)
    await tab.goto(address)
    await tab.locator(".entry").first.wait_for()
    yield tab
    await tab.close()
    assert complaints == []


async def turn_to(tab: Any, register: str, name: str, heading: str) -> str:
    """Turn the page by its index, as a reader does; returns what can be read then."""
    await tab.locator("details.register", has_text=register).evaluate("register => register.open = true")
    await tab.click(f"nav a:has-text('{name}')")
    await tab.locator("#where", has_text=heading).wait_for()
    return str(await tab.locator("#entries").inner_text())


async def overflow(tab: Any) -> int:
    return int(await tab.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


@in_the_browser
async def test_the_page_is_turned_by_room_and_by_person_in_a_real_browser(page: Any) -> None:
    assert await overflow(page) == 0
    assert "a-very-long-word" in await page.locator("#entries").inner_text(), "it begins with what everybody read"
    text = await turn_to(page, "People", "Ben Marrow", "What Ben Marrow saw")
    assert "Ben Marrow chose Option 1" in text
    assert "Moles" not in text, "what Ada filled in is hers alone"
    assert "a-very-long-word" in text
    text = await turn_to(page, "People", "Ada Quill", "What Ada Quill saw")
    for expected in ("pressed Open", "Squad name", "Moles", "Level 2", "Only you see this", "No answer came in time."):
        assert expected in text
    assert await overflow(page) == 0
    await page.click("#before")
    await page.locator("#where", has_text="Ms Holloway").wait_for()


@in_the_browser
async def test_a_room_shows_what_is_public_until_private_answers_are_asked_for(page: Any) -> None:
    text = await turn_to(page, "Rooms", "sign-up", "sign-up")
    assert "Sign up now" in text and "Only you see this" not in text and "Sign up soon" not in text
    count = await page.locator(".entry").count()
    assert await page.inner_text("#which") == f"{count} entries", "what is counted is what is shown"
    await page.check("#private")
    assert "Only you see this" in await page.locator("#entries").inner_text()
    await page.check("#all")
    assert "Sign up soon" in await page.locator("#entries").inner_text()
    await page.fill("#find", "ONLY YOU")
    await page.locator("#which", has_text="2 entries").wait_for()
    await page.fill("#find", "no such words")
    await page.locator("#nothing").wait_for()


@in_the_browser
async def test_the_page_can_be_turned_with_the_keyboard_alone(page: Any) -> None:
    await page.keyboard.press("Tab")
    assert await page.evaluate("document.activeElement.textContent") == "Skip to what everyone saw"
    await page.keyboard.press("Tab")
    await page.keyboard.press("Enter")
    await page.locator("#where", has_text="What Ada Quill saw").wait_for()
    assert await page.evaluate("document.activeElement.id") == "where"


@in_the_browser
async def test_an_entry_can_be_linked_to(page: Any) -> None:
    await page.fill("#find", "no such words")
    await page.locator("#nothing").wait_for()
    await page.evaluate("location.hash = '#e1'")
    await page.locator("#e1.here").wait_for()
    assert await page.input_value("#find") == "", "what was looked for before hides nothing that is gone to"
    assert await page.evaluate("document.querySelectorAll('*').length") < 2000


@in_the_browser
async def test_chat_text_is_drawn_as_nodes_and_never_as_markup(page: Any) -> None:
    async def drawn(text: str) -> str:
        script = """text => {
            const context = { now: new Date("2027-01-11T20:30:00Z"), zone: "America/New_York" };
            const box = document.createElement("div");
            box.append(...Paper.text(text, context));
            return box.innerHTML;
        }"""
        return str(await page.evaluate(script, text))

    expected = {
        "**bold** and *soft* and __under__": "<p><strong>bold</strong> and <em>soft</em> and <u>under</u></p>",
        "<script>alert(1)</script>": "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>",
        "**<b>**": "<p><strong>&lt;b&gt;</strong></p>",
        "`<i>*x*`": "<p><code>&lt;i&gt;*x*</code></p>",
        r"\*not soft\* \<t:1:R\>": "<p>*not soft* &lt;t:1:R&gt;</p>",
        "snake_case_name": "<p>snake_case_name</p>",
        "[x](javascript:alert(1))": "<p>[x](javascript:alert(1))</p>",
        "***both*** ~~gone~~": "<p><strong><em>both</em></strong> <s>gone</s></p>",
        "# Title\nfirst\nsecond\n-# small\n> said": '<p class="heading">Title</p><p>first<br>second</p>'
        '<p class="small">small</p><blockquote>said</blockquote>',
        "- one\n  - inner\n- two": "<ul><li>one<ul><li>inner</li></ul></li><li>two</li></ul>",
        "```\na  b\n```": "<pre>a  b</pre>",
    }
    assert {text: await drawn(text) for text in expected} == expected
    link = await drawn("[site](https://a.invalid/?a=1&b=2)")
    assert 'href="https://a.invalid/?a=1&amp;b=2"' in link and 'rel="noreferrer"' in link
    assert ">11 January 2027, 15:30<" in await drawn("<t:1799699400>")
    assert ">in 9 days<" in await drawn(f"<t:{1799699400 + 9 * 86400}:R>")
    assert ">Thursday 1 July 2027, 16:30<" in await drawn("<t:1814473800:F>"), "summer time of the school's zone"


@in_the_browser
async def test_pictures_and_files_are_shown_wherever_they_occur(page: Any) -> None:
    await turn_to(page, "Rooms", "sign-up", "sign-up")
    await page.check("#all")
    pictures = page.locator("#entries img")
    assert await pictures.count() >= 1
    assert await pictures.first.get_attribute("alt") == "The board"
    assert await page.locator("a.file").first.get_attribute("download") == "plan.toml"
