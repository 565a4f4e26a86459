"""What people look at after a season: the page of what everyone saw, and the picture the class was shown."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast import sign_up
from deploy.rehearsal.cast.people import CO_COACH, COACH, GUESTS, SCOREKEEPER, SECOND_SCOREKEEPER, TYPIST
from deploy.rehearsal.cast.stage import NEWS
from deploy.rehearsal.page import Card, Figure, Person, Season, write_page
from deploy.rehearsal.page.standings_table import next_to, why
from deploy.rehearsal.season.built_in_season import ZONE
from deploy.rehearsal.season.play import Played
from deploy.rehearsal.server.transcript import Entry, Transcript
from deploy.rehearsal.world.state import World

STANDINGS = "standings.png"
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


def write_output_page(played: Played, figures: Mapping[str, Any], out: Path) -> Path:
    """Write `index.html` and, if the class was shown one, `standings.png`; return the page."""
    transcript = played.server.transcript
    picture = announced_picture(transcript)
    if picture is not None:
        (out / STANDINGS).write_bytes(picture)
    plan = tomllib.loads(played.plan.decode()) if played.plan else {"name": "A try-out", "zone": ZONE}
    students, judges = played.cast.students, played.cast.judges
    guests = [name for name in GUESTS if any(entry.who == name for entry in transcript.entries)]
    without = len(played.cast.without_account)
    company = Company(students, squads_of(played.server.world), judges, guests, without)
    season = compose(f"{plan['name']}: a rehearsal", plan, transcript, company, played.standings)
    page = out / "index.html"
    write_page(page, with_figures(season, first_figures(figures)))
    return page


def compose(
    title: str,
    plan: Mapping[str, Any],
    transcript: Transcript,
    company: Company,
    standings: Sequence[Mapping[str, Any]],
) -> Season:
    """Put the page together from what was seen; `plan` needs the zone, and its events where there are standings."""
    shares = weights(plan)
    lead = [
        what_it_is(),
        who_was_there(company, transcript, str(plan["zone"]), len(standings)),
        who_won(standings, shares),
    ]
    return Season(
        title=title,
        lead=[sentence for sentence in lead if sentence],
        zone=str(plan["zone"]),
        standings=standings,
        entries=transcript.entries,
        files=transcript.pictures,
        people=index(company),
        news=NEWS,
        cards=cards(company, transcript, standings),
        weights=shares,
        picture=standings_picture(transcript),
    )


def with_figures(season: Season, figures: Sequence[Figure]) -> Season:
    """Add what was counted."""
    return Season(**{**season.__dict__, "figures": figures})


def what_it_is() -> str:
    """Say what the page is."""
    return (
        "Tenbell is a bot with which a teacher runs a school try-out on a class messaging server. Here a made-up class "
        "goes through one: nobody is real, the bot is, and this is what each person saw on the phone."
    )


def who_was_there(company: Company, transcript: Transcript, zone: str, ranked: int = 0) -> str:
    """Say who took part, and from when to when; `ranked` squads stand in the standings, also those without a room."""
    squads = ranked or len(set(company.squads.values()))
    students = len(company.students) + company.without_account
    coaches = "two coaches" if CO_COACH in company.guests else "a coach"
    entries = transcript.entries
    two = any(entry.who == SECOND_SCOREKEEPER for entry in entries)
    keepers = "two scorekeepers" if two else "a scorekeeper"
    people = f"{students} students, {squads} squads, {len(company.judges)} judges, {keepers} and {coaches}"
    if not entries:
        return f"{people} are there."
    first, last = (datetime.fromisoformat(one.at).astimezone(ZoneInfo(zone)) for one in (entries[0], entries[-1]))
    began = f"{first.day} {first:%B}" + (f" {first.year}" if first.year != last.year else "")
    return f"{people} were there, from {began} to {last.day} {last:%B} {last.year}."


def who_won(standings: Sequence[Mapping[str, Any]], shares: Mapping[str, float]) -> str:
    """Say who won, by how much, and because of what; nothing while nobody has a place."""
    first = [row for row in standings if row["rank"] == 1]
    if not first:
        return ""
    total = float(first[0]["total"])
    if len(first) > 1:
        return f"{' and '.join(str(row['squad']) for row in first)} came first with the same {total:.1f} points."
    winner, second = first[0], next_to(standings, standings.index(first[0]))
    said = f"{winner['squad']} won with {total:.1f} of 100 points"
    if second is None:
        return f"{said}."
    gap = total - float(second["total"])
    because = why(winner, second, shares)
    return f"{said}, {gap:.1f} ahead of {second['squad']}{f': {because}' if because else ''}."


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
    with_picture = (n for n, one in enumerate(entries) if one.room == NEWS and not one.private_to and _pictures(one))
    return max(with_picture, default=-1)


def squads_of(world: World) -> dict[str, str]:
    """The squad of everybody who sits in a squad's room, by name."""
    rooms = [room for room in world.rooms.values() if room.is_thread and " - " in room.name]
    return {world.people[who].name: room.name.split(" - ", 1)[1] for room in rooms for who in room.members}


def first_figures(figures: Mapping[str, Any]) -> list[Figure]:
    """Choose the numbers worth knowing, in words; what was measured in seconds stands in season.json alone."""
    reminders, sheets = figures["reminders"], figures["sheets"]
    shown = [
        Figure(f"{sheets['submitted']} of {sheets['due']}", "score sheets handed in"),
        Figure(f"{reminders['sent']} of {reminders['planned']}", "daily reminders to the class sent in time"),
        Figure(str(figures["acknowledged"]), "times the bot told somebody: it is done"),
        Figure(str(figures["lost"]), "of these that were not there afterwards"),
        Figure(str(figures["doubled"]), "messages said twice"),
    ]
    if figures["kills"]:
        shown.append(Figure(str(figures["kills"]), "times the bot was cut off on purpose"))
    return shown


def weights(plan: Mapping[str, Any]) -> dict[str, float]:
    """The share of each event in the total, by its name."""
    events = plan.get("events", [])
    whole = sum(event["weight"] for event in events)
    return {event["name"]: float(event["weight"]) / float(whole) for event in events}


def announced_picture(transcript: Transcript) -> bytes | None:
    """Return the last picture that was shown to everybody, if there was one."""
    everybody = max((len(entry.seen_by) for entry in transcript.entries), default=0)
    for entry in reversed(transcript.entries):
        if entry.private_to or len(entry.seen_by) < everybody:
            continue
        for key in _pictures(entry):
            return transcript.pictures[key].data
    return None


def standings_picture(transcript: Transcript) -> str:
    """Return the SHA-256 of the last picture of all standings that the coach saw; nothing where there was none."""
    for entry in reversed(transcript.entries):
        if entry.private_to == COACH:
            for block in entry.body.get("blocks", []):
                if block.get("file") == STANDINGS:
                    return str(block["sha256"])
    return ""


def _pictures(entry: Entry) -> list[str]:
    blocks = entry.body.get("blocks", [])
    return [block["sha256"] for block in blocks if "file" in block and block["type"].startswith("image/")]
