"""Photos that are handed in: what is kept of them, and what is not."""

import io
import random
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from typing import Any

import pytest
from PIL import Image

from bot.actions.core.photos import tidy_photo
from bot.rules.core.photos import LARGEST_FILE, LARGEST_KEPT, LONGEST_SIDE
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Upload

PLACE = "52 deg 30 min"


def file_of(picture: Image.Image, kind: str, **more: Any) -> Upload:
    """A picture as a file."""
    file = io.BytesIO()
    picture.save(file, kind, **more)
    return Upload(name=f"a.{kind.lower()}", data=file.getvalue(), size=len(file.getvalue()))


def opened(data: bytes) -> Image.Image:
    """A file as a picture."""
    picture = Image.open(io.BytesIO(data))
    picture.load()
    return picture


def test_nothing_of_what_a_phone_writes_into_a_photo_is_kept() -> None:
    notes = Image.Exif()
    notes[0x010F] = "Somebody's phone"
    notes.get_ifd(0x8825)[29] = PLACE
    sent = file_of(Image.new("RGB", (60, 40), "red"), "JPEG", exif=notes, comment=b"taken at home", xmp=b"<x>Leo</x>")
    for secret in (b"Somebody", PLACE.encode(), b"taken at home", b"Leo"):
        assert secret in sent.data
        assert secret not in tidy_photo(sent).data
    assert dict(opened(tidy_photo(sent).data).getexif()) == {}


def test_nothing_beside_the_pixels_of_a_png_is_kept() -> None:
    from PIL.PngImagePlugin import PngInfo

    notes = PngInfo()
    notes.add_text("Author", "Leo of 7 Ash")
    sent = file_of(Image.new("RGB", (60, 40), "red"), "PNG", pnginfo=notes)
    assert b"Leo" in sent.data and b"Leo" not in tidy_photo(sent).data


def test_a_photo_taken_with_the_phone_on_its_side_stands_upright() -> None:
    picture = Image.new("RGB", (60, 40), "red")
    picture.paste("blue", (0, 0, 60, 10))  # what is up in the file is right on the screen
    notes = Image.Exif()
    notes[0x0112] = 6  # to be turned a quarter clockwise (EXIF 2.3, orientation 6)
    kept = opened(tidy_photo(file_of(picture, "JPEG", exif=notes)).data)
    assert kept.size == (40, 60)
    right = kept.convert("RGB").getpixel((38, 30))
    assert isinstance(right, tuple) and right[2] > 200 > right[0]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_photo_becomes_small_and_keeps_its_shape(kind: str) -> None:
    kept = tidy_photo(file_of(Image.new("RGB", (3200, 1200), "green"), kind))
    assert opened(kept.data).size == (LONGEST_SIDE, 600)
    assert opened(kept.data).format == ("PNG" if kind == "PNG" else "JPEG")
    assert kept.sha256 == sha256(kept.data).hexdigest()


def test_a_small_drawing_stays_as_sharp_as_it_was() -> None:
    picture = Image.new("RGB", (9, 7), "white")
    picture.putpixel((4, 3), (12, 200, 77))
    assert opened(tidy_photo(file_of(picture, "PNG")).data).tobytes() == picture.tobytes()


def test_what_shines_through_becomes_white() -> None:
    kept = opened(tidy_photo(file_of(Image.new("RGBA", (8, 8), (255, 0, 0, 0)), "PNG")).data)
    assert kept.mode == "RGB" and kept.getpixel((3, 3)) == (255, 255, 255)


def test_even_a_picture_of_noise_fits_ten_to_a_message() -> None:
    noise = Image.frombytes("RGB", (1600, 1600), random.Random(1).randbytes(1600 * 1600 * 3))
    file = io.BytesIO()
    noise.save(file, "WEBP", quality=80)
    assert len(tidy_photo(Upload(name="a.webp", data=file.getvalue())).data) <= LARGEST_KEPT


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "I;16", "CMYK"])
def test_every_kind_of_pixels_is_understood(mode: str) -> None:
    picture = Image.new(mode, (20, 10)) if mode == "I;16" else Image.new("RGB", (20, 10), "red").convert(mode)
    assert opened(tidy_photo(file_of(picture, "JPEG" if mode == "CMYK" else "PNG")).data).size == (20, 10)


def heic() -> Upload:
    return Upload(name="IMG_0142.HEIC", data=b"\0\0\0\x18ftypheic" + bytes(200))


def half() -> Upload:
    whole = file_of(Image.new("RGB", (600, 400), "red"), "JPEG")
    return Upload(name="half.jpg", data=whole.data[: len(whole.data) // 2])


def program() -> Upload:
    return Upload(name="bunting.png", data=b"MZ" + bytes(300))


def vector() -> Upload:
    return Upload(name="bunting.svg", data=b"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>")


@pytest.mark.parametrize("made", [half, program, vector, lambda: Upload(name="empty.png", data=b"")])
def test_whatever_is_no_whole_picture_is_refused_kindly(made: Callable[[], Upload]) -> None:
    with pytest.raises(Refusal) as refused:
        tidy_photo(made())
    assert refused.value.reason == Reason.PHOTO_KIND


def test_a_file_is_measured_before_it_is_opened_and_a_picture_before_it_is_unpacked() -> None:
    with pytest.raises(Refusal, match="photo_large"):
        tidy_photo(Upload(name="a.png", data=b"", size=LARGEST_FILE + 1))
    bomb = file_of(Image.new("1", (20_000, 3_000)), "PNG")
    assert bomb.size < 20_000
    with pytest.raises(Refusal, match="photo_pixels"):
        tidy_photo(bomb)


@pytest.mark.skipif(sys.platform != "linux", reason="reads the peak of the memory as Linux tells it")
@pytest.mark.parametrize("kind", ["WEBP", "PNG", "JPEG"])
def test_the_largest_picture_that_is_taken_costs_less_memory_than_a_small_machine_has(kind: str) -> None:
    """A picture of 4000 x 4000 in one colour: a few kilobytes that become sixteen million dots."""
    code = f"""
import io
from PIL import Image
from bot.actions.core.photos import tidy_photo
from storage.records.request import Upload
file = io.BytesIO()
picture = Image.new("RGBA" if {kind!r} != "JPEG" else "RGB", (4000, 4000), "red")
picture.save(file, {kind!r}, lossless=True, progressive=True)
data = file.getvalue()
del file, picture
tidy_photo(Upload(name="a", data=data, size=len(data)))
# Not ru_maxrss: that remembers the process which started this one.
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(int(peak.split()[1]) // 1024)
"""
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert int(shown.stdout) < 300


def test_a_photo_in_a_format_we_cannot_read_is_named_and_one_that_was_not_fetched_too() -> None:
    with pytest.raises(Refusal, match="photo_heic"):
        tidy_photo(heic())
    with pytest.raises(Refusal, match="photo_not_fetched"):
        tidy_photo(Upload(name="a.png", data=b"", failed=True))
