"""The sentences at the top of the season's page, and its figures with what they count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast.people import CO_COACH, SECOND_SCOREKEEPER
from deploy.rehearsal.page import Figure
from deploy.rehearsal.page.standings_table import next_to, why
from deploy.rehearsal.season.page_people_and_cards import Company
from deploy.rehearsal.server.transcript import Transcript


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
