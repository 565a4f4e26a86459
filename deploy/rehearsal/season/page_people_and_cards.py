"""Who stands in the page's list of people, and whom its cards to begin with show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from deploy.rehearsal.cast import sign_up
from deploy.rehearsal.cast.people import CO_COACH, COACH, SCOREKEEPER, SECOND_SCOREKEEPER, TYPIST
from deploy.rehearsal.cast.stage import NEWS
from deploy.rehearsal.page import Card, Person
from deploy.rehearsal.season.page_pictures import pictures_of
from deploy.rehearsal.server.transcript import Entry, Transcript
from deploy.rehearsal.world.state import World

ACTS = ("press", "choice", "command", "form sent")


@dataclass(frozen=True)
class Company:
    """Who was there: the section of each student, the squad of each who has one, and the judges."""

    students: Mapping[str, str]
    squads: Mapping[str, str]
    judges: Sequence[str]
    guests: Sequence[str] = ()
    """Who did something besides: a second coach, somebody who types in paper, people who did not stay."""
    without_account: int = 0
    """So many more students have no account."""


def index(company: Company) -> list[Person]:
    """Everybody by role, then by squad, then those without one."""
    people = [Person(COACH, "coach", "Who runs it"), Person(SCOREKEEPER, "keeps the score", "Who runs it")]
    people.append(Person(SECOND_SCOREKEEPER, "keeps the score", "Who runs it"))
    helpers = {CO_COACH: "second coach", TYPIST: "types in what is on paper"}
    people += [Person(name, helpers[name], "Who runs it") for name in company.guests if name in helpers]
    people += [Person(name, "", "Judges") for name in company.judges]
    passing = [Person(name, "did not stay", "Without a squad") for name in company.guests if name not in helpers]
    by_squad = sorted((squad, name) for name, squad in company.squads.items() if name in company.students)
    people += [Person(name, company.students[name], squad) for squad, name in by_squad]
    alone = [name for name in company.students if name not in company.squads]
    return people + [Person(name, company.students[name], "Without a squad") for name in sorted(alone)] + passing


def cards(company: Company, transcript: Transcript, standings: Sequence[Mapping[str, Any]]) -> list[Card]:
    """The ways in: a student, who led the winning squad, a judge, the scorekeeper, the coach, the announcement."""
    entries = transcript.entries
    acts = Counter(entry.who for entry in entries if entry.kind in ACTS)
    winner = next((str(row["squad"]) for row in standings if row["rank"] == 1), "")
    leader = _leader(company, entries, winner)
    others = [name for name, squad in company.squads.items() if squad != winner and name in company.students]
    starters = {entry.who for entry in entries if entry.kind == "press" and entry.body["label"] == sign_up.START}
    student = max(sorted(others), key=lambda name: (name not in starters, acts[name]), default="")
    judge = max(company.judges, key=lambda name: acts[name], default="")
    found = [
        Card(f"{student}, a student", "What a member of a squad is told, day by day.", person=student),
        Card(f"{leader}, who led the winning squad", "From the first press to the result.", person=leader),
        Card(f"{judge}, a judge", "Marks in private messages, sheet by sheet.", person=judge),
        Card(f"{SCOREKEEPER}, at the table", "Counts, reads back, and can undo.", person=SCOREKEEPER),
        Card(f"{COACH}, the coach", "One page says what is next; every result comes with why.", person=COACH),
        Card("The announcement", "What the whole class read, to the end.", moment=_announcement(entries)),
    ]
    return [card for card in found if card.person or card.moment >= 0]


def _leader(company: Company, entries: Sequence[Entry], squad: str) -> str:
    """Who started this squad, or else its first member."""
    members = sorted(name for name, own in company.squads.items() if own == squad and name in company.students)
    started = (entry.who for entry in entries if entry.kind == "press" and entry.body["label"] == sign_up.START)
    return next((name for name in started if name in members), next(iter(members), ""))


def _announcement(entries: Sequence[Entry]) -> int:
    """The number of the last message in news with a picture; -1 where there was none."""
    with_picture = (n for n, one in enumerate(entries) if one.room == NEWS and not one.private_to and pictures_of(one))
    return max(with_picture, default=-1)


def squads_of(world: World) -> dict[str, str]:
    """The squad of everybody who sits in a squad's room, by name."""
    rooms = [room for room in world.rooms.values() if room.is_thread and " - " in room.name]
    return {world.people[who].name: room.name.split(" - ", 1)[1] for room in rooms for who in room.members}
