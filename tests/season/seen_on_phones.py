"""What the phones showed in a season, asked by squad, by person and by moment."""

import json
import re
import tomllib
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from functools import cached_property

from tests.season.typed_values import Json, text_of

COACH = "Ms Okoro"
THANKS, DELETED = "Thank you, your part is in", "Your part is deleted"
PUT_IN, BY_COACH = "Add students without a squad", re.compile(r"^The part of \*\*(.+)\*\* is (saved|deleted)")
SQUAD_PAGE = re.compile(r"^\*\*.+\*\*, squad (\d+), section ")
SQUAD_ROOM = re.compile(r"squad (\d+) - ")
WITHOUT_ACCOUNTS = 2
"""Squads of a season in which nobody had an account at first."""


@dataclass(frozen=True)
class Seen:
    """One season as the phones saw it."""

    entries: list[Json]
    """The transcript."""
    packet: Json
    """The results packet, as the coach downloaded it."""
    earlier: tuple[Json, ...] = ()
    """The packets of results that were announced and taken back."""
    rough: bool = False
    """Whether answers may be missing although the thing was done."""
    coaches: frozenset[str] = frozenset((COACH, "Mr Adeyemi"))
    """Who can read every squad's room."""
    without: int = WITHOUT_ACCOUNTS
    """So many squads have members without accounts."""
    late_minutes: int = 5
    """So long a message may take that the platform does not take at once."""

    @cached_property
    def plan(self) -> Json:
        """The plan in the packet."""
        return tomllib.loads(self.packet["plan"], parse_float=Fraction)

    @cached_property
    def in_rooms(self) -> dict[int, list[Json]]:
        """By the number of a squad: everything in its room, under whatever name the room had."""
        found: dict[int, list[Json]] = {}
        for entry in self.entries:
            if match := SQUAD_ROOM.match(entry["room"]):
                found.setdefault(int(match[1]), []).append(entry)
        return found

    @cached_property
    def rooms(self) -> dict[int, str]:
        """By the number of a squad: the name of its room in the end."""
        return {number: entries[-1]["room"] for number, entries in self.in_rooms.items()}

    @cached_property
    def names(self) -> dict[int, str]:
        """By the number of a squad: its name in the end."""
        return {number: room.partition(" - ")[2] for number, room in self.rooms.items()}

    def told(self, number: int, containing: str) -> list[Json]:
        """The messages in a squad's room that contain a text, under whatever name the room had."""
        return [
            entry
            for entry in self.in_rooms.get(number, ())
            if entry["kind"] == "message" and containing in text_of(entry)
        ]

    def parts_by(self, moment: str) -> tuple[set[str], set[str]]:
        """Students whose part was in for sure, and those who have tried, before a moment."""
        sure: set[str] = set()
        perhaps: set[str] = set()
        for entry in self.entries:
            if entry["at"] >= moment:
                break
            text = text_of(entry) if entry["private_to"] else ""
            if entry["private_to"] and text.startswith(THANKS):
                sure.add(entry["private_to"])
            elif entry["private_to"] == COACH and (kept := BY_COACH.match(text)):
                (sure.add if kept[2] == "saved" else sure.discard)(kept[1])
                if kept[2] == "deleted":
                    perhaps.discard(kept[1])
            elif entry["private_to"] and text.startswith(DELETED):
                sure.discard(entry["private_to"])
                perhaps.discard(entry["private_to"])
            elif entry["kind"] in ("form sent", "command"):
                said = json.dumps(entry["body"])
                if "my part" in said or "hand-in" in said:
                    perhaps.add(entry["who"])
                elif by_coach := re.match(r"The part of (.+): ", entry["body"].get("title", "")):
                    perhaps.add(by_coach[1])
        return sure, perhaps | sure

    def members_at(self, number: int, moment: str) -> set[str]:
        """The students who could see the newest message in a squad's room before a moment, and those put in by hand."""
        seen: set[str] = set()
        for entry in self.in_rooms.get(number, ()):
            if entry["at"] > moment:
                break
            if not entry["private_to"]:
                seen = set(entry["seen_by"]) - self.coaches
        return seen | self.put_in(number, moment)

    def put_in(self, number: int, moment: str) -> set[str]:
        """The students without an account whom the coach has put into a squad before a moment."""
        return {name for at, squad, names in self._put_in if squad == number and at <= moment for name in names}

    @cached_property
    def _put_in(self) -> list[tuple[str, int, list[str]]]:
        """When the coach put which students without an account into which squad."""
        return [
            (entry["at"], int(page[1]), entry["body"]["chosen"])
            for entry in self.entries
            if entry["kind"] == "choice" and entry["body"]["select"] == PUT_IN
            and (page := SQUAD_PAGE.match(entry["body"]["on"]))
        ]  # fmt: skip


def minutes(moment: str) -> float:
    """The minutes of a moment on a scale of their own, to be compared."""
    return datetime.fromisoformat(moment).timestamp() / 60
