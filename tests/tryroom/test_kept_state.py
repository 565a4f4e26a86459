"""A room that was kept is the same room: what people see, what was said, and every file."""

import json
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.tryroom.kept_state import FILES, STATE, Unreadable, load, restore, save
from deploy.rehearsal.wire.request_bodies import Upload
from tests.rehearsal.conftest import START, small_class
from tests.tryroom.browser import command


def a_class_with_messages() -> ClassServer:
    server = small_class(ClassServer(START))
    world = server.world
    world.timeline.move_to(START + timedelta(minutes=5))
    board = [Upload("0", "board.png", b"\x89PNG\r\n\x1a\n not a picture", "image/png")]
    server.publisher.create(world.room("sign-up"), world.bot, {"content": "Sign up <t:1800000000:R>"}, board)
    server.publisher.create(world.room("news"), world.person("Ada Quill"), {"content": "Hello </script>"}, [])
    room = world.add_thread(world.room("sign-up"), world.bot, "squad 1 - Moles")
    room.members[world.person("Ada Quill").id] = world.now
    server.publisher.create(room, world.bot, {"content": "Your room"}, [])
    world.person("Ben Marrow").dms_open = False
    return server


def seen(server: ClassServer) -> dict[str, list[tuple[str, str, tuple[bytes, ...]]]]:
    found = {}
    for name in ("Ms Holloway", "Ada Quill", "Ben Marrow"):
        phone = Phone(server, name)
        found[name] = [
            (place, shown.text, tuple(phone.download(file) for file in shown.files))
            for place in phone.rooms
            for shown in phone.see(place)
        ]
    return found


def test_everybody_sees_the_same_after_a_stop(tmp_path: Path) -> None:
    before = a_class_with_messages()
    save(before, START, {"seed": 3}, tmp_path)
    kept = load(tmp_path)
    after = ClassServer(kept.start)
    restore(after, kept)
    assert seen(after) == seen(before)
    assert after.transcript.text() == before.transcript.text()
    assert after.transcript.pictures.keys() == before.transcript.pictures.keys()
    assert after.token == before.token and after.world.bot is after.world.people[before.world.bot.id]
    assert not after.world.person("Ben Marrow").dms_open
    assert kept.notes == {"seed": 3}


def test_no_identifier_is_given_twice(tmp_path: Path) -> None:
    before = a_class_with_messages()
    given = {before.world.snowflakes.next() for _ in range(50)}
    save(before, START, {}, tmp_path)
    after = ClassServer(START)
    restore(after, load(tmp_path))
    assert not given & {after.world.snowflakes.next() for _ in range(50)}


def test_a_folder_that_is_no_room_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="no try-it room"):
        load(tmp_path)
    (tmp_path / STATE).write_text("[]")
    with pytest.raises(Unreadable):
        load(tmp_path)
    (tmp_path / STATE).write_text(json.dumps({"version": 99}))
    with pytest.raises(Unreadable, match="another version"):
        load(tmp_path)


def test_a_folder_from_somebody_else_reads_no_file_outside_itself(tmp_path: Path) -> None:
    save(a_class_with_messages(), START, {}, tmp_path)
    (name,) = [file.name for file in (tmp_path / FILES).iterdir()]
    text = (tmp_path / STATE).read_text("utf-8")
    (tmp_path / STATE).write_text(text.replace(name, "../room.json"), "utf-8")
    with pytest.raises(Unreadable, match="not the name of a file"):
        load(tmp_path)


def test_times_keep_their_zone(tmp_path: Path) -> None:
    server = a_class_with_messages()
    save(server, START, {}, tmp_path)
    assert load(tmp_path).now == server.world.now
    assert load(tmp_path).start == datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


@pytest.mark.season
@pytest.mark.skipif(sys.platform == "win32", reason="no signal ends a process at once there")
def test_a_command_that_is_ended_at_once_leaves_no_bot_that_holds_the_season(tmp_path: Path) -> None:
    with command("--out", "room", folder=tmp_path, kill=True):
        pass
    with command("--continue", "room", folder=tmp_path) as address:
        assert address.startswith("http://127.0.0.1:")
