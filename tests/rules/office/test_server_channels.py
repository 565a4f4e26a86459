"""What is needed in each room, against the numbers the platform publishes."""

import discord
import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.office.server_channels import NEEDED, NEEDS, PERMISSIONS, check_office, missing_in
from bot.words.office.server_channels import PLAIN
from storage.records.request import Room
from storage.records.tryout import ROOM_KINDS, RoomKind

ROOMS: dict[RoomKind, int] = {"signup": 1, "news": 1, "squads": 2, "office": 3}


def test_the_invite_asks_for_what_the_rooms_need_and_nothing_more() -> None:
    needed = {name for names in NEEDS.values() for name in names}
    assert needed == set(NEEDED) == set(PLAIN)
    assert discord.Permissions(**dict.fromkeys(needed, True)).value == PERMISSIONS


def test_each_room_needs_only_what_is_done_there() -> None:
    room = Room(id=1, missing=("pin_messages", "create_private_threads", "manage_guild"))
    assert {kind: missing_in(kind, room) for kind in ROOM_KINDS} == {
        "signup": ("pin_messages",),
        "news": (),
        "squads": ("create_private_threads",),
        "office": (),
    }


def test_rooms_of_students_may_be_one_but_never_the_office() -> None:
    check_office("squads", Room(id=1, seen_by_all=True), ROOMS)
    check_office("office", Room(id=3), ROOMS)
    for kind, room, reason in (
        ("office", Room(id=1), "office_shared"),
        ("signup", Room(id=3), "office_shared"),
        ("office", Room(id=9, seen_by_all=True), "office_seen"),
    ):
        with pytest.raises(Refusal, match=reason):
            check_office(kind, room, ROOMS)  # type: ignore[arg-type]
