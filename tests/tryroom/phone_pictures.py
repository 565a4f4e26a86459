"""Makes the pictures of the README: three phones of the try-it room, or the standings out of a rehearsal's page.

`python -m tests.tryroom.phone_pictures`, and the same with `--standings rehearsal/index.html`.
"""

from __future__ import annotations

import argparse
import asyncio
import base64
import io
import json
import re
import tempfile
from pathlib import Path
from typing import Any

from PIL import Image

from tests.tryroom.browser import BROWSER, NO_BROWSER, ROOT, command
from tests.tryroom.walking import begin, press, type_line

PICTURES = ROOT / "deploy" / "pictures"
COLOURS = 64


async def student(page: Any, address: str) -> None:
    """A student has just founded a squad."""
    await begin(page, address, "Found a squad")
    await press(page, "Start a squad")
    await page.get_by_label("Name of your squad").fill("Crooked Spoons")
    await page.get_by_label("Your section").select_option(index=1)
    await page.locator("#dialog-send").click()
    await page.locator("#messages .private").last.wait_for()
    await page.locator("#messages .private").last.evaluate("note => note.scrollIntoView({block: 'center'})")


async def judge(page: Any, address: str) -> None:
    """A judge has opened a score sheet."""
    await begin(page, address, "Mark three squads")
    await press(page, re.compile("^(Next|Go on): "))
    for number, field in enumerate(await page.locator("#dialog fieldset").all()):
        await field.locator("input").nth(2 + number % 2).check()
    await page.locator("#dialog").evaluate("form => form.scrollTo(0, 0)")


async def coach(page: Any, address: str) -> None:
    """The coach reads who wins, and why."""
    await begin(page, address, "Announce the result")
    await type_line(page, "/office")
    for label in ("Judges", "Close judging", "Close judging", "See the standings"):
        await press(page, label)
    await page.locator("#messages .private").last.evaluate("note => note.scrollIntoView({block: 'start'})")


async def main() -> None:
    """Walk the three ways on a phone's screen and keep a picture of each, with few colours."""
    from playwright.async_api import async_playwright

    with tempfile.TemporaryDirectory() as folder, command("--out", "room", folder=Path(folder)) as address:
        async with async_playwright() as playwright:
            browser = await playwright.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
            page = await browser.new_page(viewport={"width": 360, "height": 720}, device_scale_factor=2)
            for walk in (student, judge, coach):
                await walk(page, address)
                await page.wait_for_timeout(500)
                with Image.open(io.BytesIO(await page.screenshot())) as taken:
                    few = taken.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
                few.save(PICTURES / f"{walk.__name__}.png", optimize=True)
                print(PICTURES / f"{walk.__name__}.png")
            await browser.close()


def standings(page: Path) -> None:
    """Keep the picture of the standings that a season's page carries, and say who stands where for its description."""
    text = page.read_text("utf-8")
    files = json.loads(text.partition('<script type="application/json" id="files">')[2].partition("</script>")[0])
    number = text.partition('data-file="')[2].partition('"')[0]
    with Image.open(io.BytesIO(base64.b64decode(files[number].partition(",")[2]))) as carried:
        few = carried.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
    few.save(PICTURES / "standings.png", optimize=True)
    print(PICTURES / "standings.png", re.findall(r"<p class=\"lead\">(.*?)</p>", text)[-1], sep="\n")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--standings", type=Path, metavar="PAGE")
    chosen = parser.parse_args()
    if chosen.standings is not None:
        standings(chosen.standings)
    elif BROWSER is None:
        raise SystemExit(NO_BROWSER)
    else:
        asyncio.run(main())
