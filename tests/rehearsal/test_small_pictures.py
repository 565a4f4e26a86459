"""Pictures made small for the page, beside the season or when the page is written."""

from __future__ import annotations

import io
from datetime import UTC, datetime

from PIL import Image, ImageDraw

from deploy.rehearsal.page import SmallPictures
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.world.state import File

NOW = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def picture(colour: str, name: str = "x.png") -> File:
    drawn = Image.new("RGB", (120, 80), "white")
    ImageDraw.Draw(drawn).ellipse((10, 10, 100, 70), fill=colour)
    data = io.BytesIO()
    drawn.save(data, "PNG", compress_level=0)
    return File(1, name, data.getvalue(), "image/png", 1, NOW)


def test_a_picture_begun_beside_the_season_is_the_one_made_for_the_page() -> None:
    file = picture("teal")
    beside = SmallPictures(threads=1)
    beside.begin("a", file)
    beside.begin("a", picture("red"))
    kind, data = beside.made("a", file)
    assert (kind, data) == SmallPictures().made("a", file), "the same bytes, whenever it is made"
    with Image.open(io.BytesIO(data)) as small, Image.open(io.BytesIO(file.data)) as large:
        assert small.convert("RGB").tobytes() == large.convert("RGB").tobytes()
    assert len(data) < len(file.data) / 10


def test_other_files_and_what_is_no_picture_stay_as_they_are() -> None:
    table = File(2, "x.csv", b"a,b", "text/csv; charset=utf-8", 1, NOW)
    broken = File(3, "x.png", b"no picture", "image/png", 1, NOW)
    pictures = SmallPictures()
    assert pictures.made("b", table) == ("text/csv", b"a,b")
    assert pictures.made("c", broken) == ("image/png", b"no picture")


def test_a_file_is_told_of_once_when_it_is_seen_first(server: ClassServer) -> None:
    told: list[tuple[str, str]] = []
    server.transcript.on_file = lambda key, file: told.append((key, file.name))
    keys = [server.transcript.file_key(picture("teal", name)) for name in ("first.png", "again.png")]
    keys.append(server.transcript.file_key(picture("red", "other.png")))
    assert told == [(keys[0], "first.png"), (keys[2], "other.png")]
