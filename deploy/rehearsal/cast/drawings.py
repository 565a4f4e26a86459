"""What students hand in as a photo: a flag of paper with something drawn on it, different for everybody."""

from __future__ import annotations

import io
from random import Random

from PIL import Image, ImageDraw

SIZE = (320, 240)
PAPERS = ("#f6e3b4", "#cfe5d6", "#d6e2f3", "#f3d6d6", "#e6dcf2")
INKS = ("#1f3b73", "#8a2f2b", "#1f6039", "#6a3d8a", "#8a5a12")
_FLAG = ((20, 20), (300, 20), (160, 225))


def drawing(chance: Random) -> tuple[str, bytes]:
    """A file name and a small PNG: a pennant on a string, with a sock, a wheel, a robot, a basket or stripes."""
    paper, ink, other = chance.choice(PAPERS), *chance.sample(INKS, 2)
    picture = Image.new("RGB", SIZE, "#fbfaf5")
    draw = ImageDraw.Draw(picture)
    draw.line((0, 20, SIZE[0], 20), fill="#6b5f4a", width=4)
    draw.polygon(_FLAG, fill=paper, outline=ink)
    for number in range(7):
        draw.ellipse((40 + 38 * number, 27, 50 + 38 * number, 37), fill=other)
    chance.choice((_sock, _wheel, _robot, _basket, _stripes))(draw, ink, other)
    file = io.BytesIO()
    picture.save(file, "PNG", optimize=True)
    return "my part.png", file.getvalue()


def _sock(draw: ImageDraw.ImageDraw, ink: str, other: str) -> None:
    draw.polygon(((140, 60), (178, 60), (178, 115), (205, 130), (200, 152), (150, 145), (140, 128)), fill=ink)
    draw.rectangle((140, 60, 178, 74), fill=other)


def _wheel(draw: ImageDraw.ImageDraw, ink: str, other: str) -> None:
    draw.ellipse((115, 55, 205, 145), fill=ink)
    draw.ellipse((140, 80, 180, 120), fill=other)
    draw.line((160, 58, 160, 142), fill="#fbfaf5", width=4)
    draw.line((118, 100, 202, 100), fill="#fbfaf5", width=4)


def _robot(draw: ImageDraw.ImageDraw, ink: str, other: str) -> None:
    draw.rectangle((125, 85, 195, 130), fill=ink)
    draw.rectangle((140, 55, 180, 85), fill=other)
    for left in (132, 172):
        draw.ellipse((left, 122, left + 22, 144), fill="#333333")
    for left in (149, 165):
        draw.ellipse((left, 64, left + 8, 72), fill="#fbfaf5")


def _basket(draw: ImageDraw.ImageDraw, ink: str, other: str) -> None:
    draw.arc((130, 45, 190, 115), 180, 360, fill=other, width=5)
    draw.polygon(((115, 80), (205, 80), (190, 145), (130, 145)), fill=ink)
    for level in (98, 116, 132):
        draw.line((122, level, 198, level), fill=other, width=3)


def _stripes(draw: ImageDraw.ImageDraw, ink: str, other: str) -> None:
    for number, colour in enumerate((ink, other, ink, other)):
        top = 55 + 30 * number
        half = round(140 * (225 - top) / 205) - 12
        draw.rectangle((160 - half, top, 160 + half, top + 12), fill=colour)
