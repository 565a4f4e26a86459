"""Who may ask the try-it room: the right key, the right name of this machine, and the page itself; nobody else."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import aiohttp
import pytest

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.break_buttons import NO_POWER
from deploy.rehearsal.tryroom.guided_way_progress import begin
from deploy.rehearsal.tryroom.made_up_class import VISITOR
from deploy.rehearsal.tryroom.open_room import open_room
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.visitors import MARK
from deploy.rehearsal.tryroom.web import SCRIPTS, Web

Json = dict[str, Any]
EVIL = "<img src=x onerror=alert(1)></script>"


@pytest.fixture
async def room(tmp_path: Path) -> AsyncIterator[TryRoom]:
    """A room whose bot was never started: what is asked here needs none."""
    made = open_room(tmp_path / "room", 1, None)
    yield made
    made.stopped = True


@pytest.fixture
async def web(room: TryRoom) -> AsyncIterator[Web]:
    served = Web(room)
    await served.start(0)
    yield served
    room.stopped = True
    await served.stop()


async def get(address: str, **headers: str) -> tuple[int, str, Any]:
    async with aiohttp.ClientSession() as client, client.get(address, headers=headers) as answer:
        return answer.status, await answer.text(), answer.headers


async def post(address: str, body: Json, **headers: str) -> tuple[int, str]:
    async with aiohttp.ClientSession() as client, client.post(address, json=body, headers=headers) as answer:
        return answer.status, await answer.text()


async def test_the_page_is_there_under_its_key_alone(web: Web) -> None:
    status, text, headers = await get(web.address)
    assert status == 200 and "Who do you want to be?" in text
    assert "default-src 'none'" in headers["Content-Security-Policy"]
    assert headers["Referrer-Policy"] == "no-referrer" and headers["X-Content-Type-Options"] == "nosniff"
    base = f"http://127.0.0.1:{web.port}"
    for path in ("/", "/wrong/", "/wrong/people", f"{urlsplit(web.address).path[:-2]}/people"):
        status, text, _ = await get(base + path)
        assert status == 404 and "Ms Okoro" not in text


async def test_two_rooms_have_two_keys(room: TryRoom) -> None:
    assert Web(room).address != Web(room).address


async def test_another_name_for_this_machine_is_refused(web: Web) -> None:
    """A site elsewhere may let its own name lead to this machine; the browser then sends that name as Host."""
    for host in ("evil.example", f"evil.example:{web.port}", "127.0.0.1", f"127.0.0.1:{web.port + 1}"):
        assert (await get(f"{web.address}people", Host=host))[0] == 404
    assert (await get(f"{web.address}people", Host=f"localhost:{web.port}"))[0] == 200


async def test_another_site_cannot_make_the_browser_act(web: Web, room: TryRoom) -> None:
    person = room.server.world.person(VISITOR)
    place = room.server.world.room("news")
    body = {"as": str(person.id), "room": str(place.id), "do": "say", "text": "sent by another site"}
    address = f"{web.address}do"
    own = f"http://127.0.0.1:{web.port}"
    refused: list[dict[str, str]] = [
        {},
        {MARK: "1", "Origin": "http://evil.example"},
        {MARK: "1", "Origin": "null"},
        {MARK: "1", "Origin": own, "Sec-Fetch-Site": "cross-site"},
        {MARK: "1", "Origin": own, "Content-Type": "text/plain"},
    ]
    for headers in refused:
        assert (await post(address, body, **headers))[0] == 403, headers
    assert not place.messages
    assert (await post(address, body, **{MARK: "1", "Origin": own}))[0] == 200
    assert [message.content for message in place.messages.values()] == ["sent by another site"]


async def test_only_the_pages_own_files_are_served(web: Web) -> None:
    for name in ("room.py", "..%2froom.js", "web.py", "look.css"):
        assert (await get(web.address + name))[0] == 404
    for name in (*SCRIPTS, "room.css", "shared_messages.js", "shared_look.css", "icon.svg"):
        assert (await get(web.address + name))[0] == 200


async def test_names_and_texts_travel_as_data_and_never_as_a_page(web: Web, room: TryRoom) -> None:
    world = room.server.world
    room.server.publisher.create(world.room("news"), world.bot, {"content": EVIL}, [])
    person = world.add_person(EVIL)
    status, text, headers = await get(f"{web.address}screen?as={person.id}&room={world.room('news').id}")
    assert status == 200 and headers["Content-Type"].startswith("application/json") and "<img src=x" in text


async def test_a_file_is_for_those_who_see_it(web: Web, room: TryRoom) -> None:
    world = room.server.world
    from deploy.rehearsal.wire.request_bodies import Upload

    page = [Upload("0", "page.html", b"<script>alert(1)</script>", "text/html")]
    office = world.room("coach-office")
    message = room.server.publisher.create(office, world.bot, {"content": "for the coach"}, page)
    (file,) = message.files
    coach, stranger = world.person("Ms Okoro"), world.person(VISITOR)
    status, _, headers = await get(f"{web.address}file/{file.id}?as={coach.id}")
    assert status == 200 and headers["Content-Disposition"].startswith("attachment")
    assert headers["Content-Type"] == "application/octet-stream"
    status, text, _ = await get(f"{web.address}file/{file.id}?as={stranger.id}")
    assert "alert" not in text and "mistake" in text


async def test_nonsense_is_answered_and_harms_nothing(web: Web, room: TryRoom) -> None:
    own = {MARK: "1"}
    me = str(room.server.world.person(VISITOR).id)
    bodies: list[Json] = [
        {},
        {"as": "x"},
        {"as": me},
        {"as": me, "do": "fly"},
        {"as": me, "do": "press", "message": "1"},
    ]
    for body in bodies:
        status, text = await post(f"{web.address}do", body, **own)
        assert (status in (200, 400) and "mistake" in text) or NO_POWER in text, (body, text)
    bot = str(room.server.world.bot.id)
    assert "Nobody can be the bot" in (await get(f"{web.address}screen?as={bot}"))[1]


async def test_a_phone_of_the_network_is_one_person_and_runs_nothing(
    room: TryRoom, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("deploy.rehearsal.tryroom.web.own_address", lambda: "192.0.2.7")
    served = Web(room, open_to_network=True)
    await served.start(0)
    try:
        coach, stranger = room.server.world.person("Ms Okoro"), room.server.world.person(VISITOR)
        address = served.phone_address("127.0.0.1", stranger)
        _, text, _ = await get(f"{address}people")
        assert f'"only": "{stranger.id}"' in text and '"ways": []' in text
        assert "Ms Okoro" in text, "lists of people are the class server's"
        _, text, _ = await get(f"{address}screen?as={coach.id}")
        assert f'"name": "{VISITOR}"' in text and "coach-office" not in text
        for path, body in (("move", {"to": "morning"}), ("break", {"what": "power", "on": True})):
            assert "Only the window that runs the room" in (await post(address + path, body, **{MARK: "1"}))[1]
        for page in ("season", "codes"):
            assert (await get(address + page))[1].startswith('{"mistake"')
        _, codes, headers = await get(f"{served.address}codes")
        assert codes.count("<svg") == len([one for one in room.server.world.people.values() if not one.bot])
        assert "For invented data only" in codes and headers["Content-Type"].startswith("text/html")
    finally:
        room.stopped = True
        await served.stop()


async def test_no_phone_is_let_in_unless_that_was_asked_for(web: Web, room: TryRoom) -> None:
    stranger = room.server.world.person(VISITOR)
    address = web.phone_address("127.0.0.1", stranger)
    assert (await get(f"{address}people"))[0] == 404
    assert "--phones" in (await get(f"{web.address}codes"))[1]


async def test_a_way_whose_clock_was_stopped_says_so(room: TryRoom) -> None:
    room.on_change.append(lambda: room.hold() if room.moving else None)
    with pytest.raises(CastMistake, match="stopped the clock"):
        await begin(room, "judge")
