"""The people of a try-out, the squads they form, and what takes the place of an erased name."""

from datetime import datetime
from decimal import Decimal
from typing import Literal, NamedTuple

from pydantic import Field

from storage.records.base import Record


class Student(Record):
    """Someone who wants in; unattached while `squad_id` is None."""

    id: int
    tryout_id: int
    platform_id: int | None
    """The chat account; None for a student without one, whom the coach entered."""
    name: str
    section: str
    squad_id: int | None = None
    looking: bool = False
    """Asked to be seen by squads that still have a seat."""
    joined_at: datetime | None = None
    brief_opened_at: datetime | None = None
    late_at: datetime | None = None
    """When the coach was told that this student came after sign-up had closed."""
    manages_server_at: datetime | None = None
    """When the account was last seen, while in a squad, with the right to manage the class server."""
    link_code: str | None = Field(default=None, repr=False)
    """With it a student whom the coach entered links an account."""


class Squad(Record):
    """Students of one section who try out together."""

    id: int
    tryout_id: int
    number: int
    """Counts from 1 within the try-out; used where a name may not stand."""
    name: str
    section: str
    captain_id: int | None
    join_code: str
    room_id: int | None = None
    """The platform's channel (a private thread) of the squad, once it is open."""
    withdrawn: bool = False
    created_at: datetime


class Judge(Record):
    """Someone who marks score sheets; the number is what is shown where the name may not be."""

    id: int
    tryout_id: int
    number: int
    platform_id: int
    name: str
    weight: Decimal = Field(Decimal(1), ge=0, le=5)
    """0 is shown and not counted."""
    direct_id: int | None = None
    """The direct-message channel, known once the judge has opted in."""
    direct_closed_at: datetime | None = None
    """Since when the judge takes no direct messages; a private room stands in for them."""
    room_id: int | None = None
    """That private room, once it is open."""
    opted_in_at: datetime | None = None
    direct_chosen_at: datetime | None = None
    """When a judge of several try-outs chose this one for the private messages; the latest counts."""
    declined_at: datetime | None = None
    """When the coach was told last that this judge, who was asked, cannot judge."""
    removed: bool = False


class Officer(Record):
    """Someone who helps to run the try-out."""

    id: int
    tryout_id: int
    platform_id: int
    name: str
    role: Literal["coach", "scorekeeper", "typist"]


class ErasedLabels(NamedTuple):
    """What people read in the place of an erased name; `%d` in those of people and squads stands for the number."""

    name: str
    """In a text that somebody wrote, where the name was no shorter; and in the place of a whole message of ours."""
    student: str
    squad: str
    judge: str
