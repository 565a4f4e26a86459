"""What the season's page is made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from deploy.rehearsal.page.small_pictures import SmallPictures
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.state import File


@dataclass(frozen=True)
class Figure:
    """One number worth knowing, and what it counts."""

    value: str
    meaning: str


@dataclass(frozen=True)
class Person:
    """Somebody in the index: the name, what the person is, and the heading under which the person stands."""

    name: str
    what: str
    group: str


@dataclass(frozen=True)
class Card:
    """One way into the page: whose phone to look at, or which moment."""

    title: str
    text: str
    person: str = ""
    moment: int = -1
    """The number of an entry."""


@dataclass(frozen=True)
class Season:
    """Everything the page shows. `standings` rows hold rank, squad, total and events ({name: points})."""

    title: str
    lead: Sequence[str]
    """Sentences: what this is, who was there, who won because of what."""
    zone: str
    standings: Sequence[Mapping[str, Any]]
    entries: Sequence[Entry]
    files: Mapping[str, File]
    people: Sequence[Person]
    """In the order of the index."""
    news: str = ""
    """The room that everybody reads: the page begins with it, and its messages are the moments to jump to."""
    cards: Sequence[Card] = ()
    figures: Sequence[Figure] = ()
    weights: Mapping[str, float] = field(default_factory=dict)
    """The share of each event in the total, by its name, from 0 to 1."""
    picture: str = ""
    """The SHA-256 of the picture of the full standings, where somebody saw one."""
    bot: str = "Tenbell"
    pictures: SmallPictures = field(default_factory=SmallPictures)
    """Whatever of `files` was made small before."""
