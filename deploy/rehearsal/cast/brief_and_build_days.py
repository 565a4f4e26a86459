"""The brief and the days of the window: everyone opens it sooner or later, reminders come, the deadline passes."""

from __future__ import annotations

import re
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, timedelta
from functools import partial

from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import in_office, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, NEXT_PAGE, OFFICE, Stage, awaited, newest
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake

OPEN = "Open the brief"
DIGEST = "what is new"


def told_moment(text: str, before: str) -> datetime:
    """The moment that a message names behind some words, as people read it from the timestamp."""
    found = re.search(re.escape(before) + r"[^<]*<t:(\d+)", text)
    if found is None:
        raise CastMistake(f"no moment behind {before!r} in {text!r}")
    return datetime.fromtimestamp(int(found[1]), UTC)


def squad_room(phone: Phone, squad: str) -> str:
    """The name of a squad's private room, as a member finds it."""
    for name in phone.rooms:
        if squad in name:
            return name
    raise CastMistake(f"{phone.person.name} sees no room of {squad}")


def sleeps(phone: Phone, squad: str) -> bool:
    """Whether nobody has written in a squad's room for a week, so that the phone does not list it any more."""
    return not any(squad in name for name in phone.rooms)


async def not_yet(stage: Stage, _cast: Cast) -> None:
    """The coach reads what releasing the brief now would do, and does not."""
    await in_office(stage, "Release the brief now")


async def brief(stage: Stage, cast: Cast) -> None:
    """Wait for the brief; half of the students open it at once, the others over the days."""
    opened = await awaited(stage, lambda: newest(stage.coach, NEWS, "sign-up is open"))
    await stage.until(told_moment(opened.text, "brief comes"))
    news = await awaited(stage, lambda: newest(stage.coach, NEWS, "the brief is out"))
    found = re.findall(r"\b[0-9a-f]{64}\b", news.text)
    stage.facts["plan_sha256"] = found[-1] if found else ""
    stage.facts["deadline"] = told_moment(news.text, "The deadline is").isoformat()
    for group in cast.groups:
        for name in group.people[::2]:
            await _open(stage, name, group.name)


async def _open(stage: Stage, name: str, squad: str) -> None:
    if not sleeps(stage.phone(name), squad):
        await open_brief(stage, name, squad_room(stage.phone(name), squad))


async def open_brief(stage: Stage, name: str, room: str) -> None:
    """Open the brief in the squad's room and read it to its last page."""
    phone = stage.phone(name)
    shown = (await stage.do(lambda: phone.press(phone.with_button(room, OPEN), OPEN))).shown()
    while any(NEXT_PAGE.fullmatch(label) for label in shown.labels):
        shown = (await stage.do(partial(phone.press, shown, NEXT_PAGE), told="page ")).shown()


LAST_HOURS = timedelta(hours=4)
"""The last day begins so long before the deadline at the latest: people have things to do on it."""


async def days(stage: Stage, cast: Cast, *each: Callable[[int], Awaitable[None]]) -> None:
    """Let the days of the window pass, with a few late readers, up to the deadline; `each` plays a part of each."""
    deadline = datetime.fromisoformat(stage.facts["deadline"])
    late = [(name, group.name) for group in cast.groups for name in group.people[1::2]]
    stage.random.shuffle(late)
    forgetful = late[: len(late) // 6]
    share = max(1, len(late) // 6)
    readers = late[len(forgetful) :]
    number = 0
    while stage.now < deadline:
        for part in each:
            await part(number)
        number += 1
        for name, squad in readers[:share]:
            await _open(stage, name, squad)
        readers = readers[share:]
        tomorrow = stage.now + timedelta(hours=24 - stage.random.randint(0, 2))
        last = deadline - LAST_HOURS
        await stage.until(min(tomorrow, last if stage.now < last else deadline))
    await stage.wait(minutes=5)
    await awaited(stage, lambda: newest(stage.coach, OFFICE, "judged"))


async def rules_as_a_file(stage: Stage, cast: Cast) -> None:
    """A student saves the rules, and the coach opens the office from the morning's message, if one has come by then."""
    await in_room(stage, cast.groups[0].people[0], NEWS, "The rules as a file")
    digests = [shown for shown in stage.coach.see(OFFICE) if DIGEST in shown.text]
    if digests:
        await walk(stage, COACH, digests[-1], "Office")
