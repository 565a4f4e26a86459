"""What people look at after a season: the page of what everyone saw, and the picture the class was shown."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.people import GUESTS
from deploy.rehearsal.cast.stage import NEWS
from deploy.rehearsal.page import Season, SmallPictures, write_page
from deploy.rehearsal.season.built_in_season import ZONE
from deploy.rehearsal.season.page_lead_and_figures import first_figures, what_it_is, who_was_there, who_won
from deploy.rehearsal.season.page_people_and_cards import Company, cards, index, squads_of
from deploy.rehearsal.season.page_pictures import STANDINGS, announced_picture, standings_picture
from deploy.rehearsal.season.play import Played
from deploy.rehearsal.server.transcript import Transcript

PAGE = "index.html"


def write_output_page(
    played: Played, figures: Mapping[str, Any], out: Path, pictures: SmallPictures | None = None
) -> Path:
    """Write `index.html` and, if the class was shown one, `standings.png`; return the page.

    `pictures` has made those small that were seen, or is still at it.
    """
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
    page = out / PAGE
    write_page(page, replace(season, figures=first_figures(figures), pictures=pictures or season.pictures))
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


def weights(plan: Mapping[str, Any]) -> dict[str, float]:
    """The share of each event in the total, by its name."""
    events = plan.get("events", [])
    whole = sum(event["weight"] for event in events)
    return {event["name"]: float(event["weight"]) / float(whole) for event in events}
