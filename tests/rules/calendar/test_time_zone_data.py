"""The time-zone data that decide: those locked with the program, whatever the machine has."""

import re
import zoneinfo
from datetime import datetime, timedelta
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from zoneinfo import ZoneInfo

import bot
from bot.rules.calendar.calendar import schedule
from tests.rules.plan_samples import plan

LOCK = Path(bot.__file__).parents[1] / "deploy" / "requirements.txt"


def test_no_folder_of_the_machine_is_looked_at() -> None:
    assert zoneinfo.TZPATH == ()


def test_the_release_in_use_is_the_locked_one() -> None:
    """IANA releases are a year and a letter; the package numbers them by the letter's place in the alphabet."""
    (locked,) = re.findall(r"^tzdata==(\S+)", LOCK.read_text("utf-8"), re.MULTILINE)
    year, place = locked.split(".")[:2]
    assert version("tzdata") == locked
    assert f"{year}{chr(ord('a') + int(place) - 1)}" == import_module("tzdata").IANA_VERSION


def test_a_deadline_in_vancouver_follows_the_newest_rules() -> None:
    """British Columbia stays at UTC-7 all year since 2026, as the locked release has it and older ones have not."""
    zone = ZoneInfo("America/Vancouver")
    assert datetime(2026, 12, 1, 12, tzinfo=zone).utcoffset() == timedelta(hours=-7)
    deadline = schedule(plan("America/Vancouver", brief="2026-11-20T15:30")).deadline
    assert (deadline.hour, deadline.minute, deadline.utcoffset()) == (22, 30, timedelta(0))
