"""What a squad without accounts gets on paper: which parts of what it would read, in which order."""

import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.paper_size import paper_size
from bot.words.calendar.brief import whole
from bot.words.core.buttons import BACK, SQUADS
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape, without_markup
from bot.words.core.printed_text import pdf
from bot.words.core.signs import Sign
from storage.records.message import Answer, Attachment, Message, Say
from storage.records.people import Squad, Student
from storage.records.plan import Plan

_INSTANT = re.compile(r"<t:(\d+):(\w)>")
_ROOM = re.compile(r"<#\d+>")
_PERSON = re.compile(r"<@!?(\d+)>")
NO_BUTTONS = (
    "This is what your squad would read on the class server. Where it says to press a button, to book a turn, to hand "
    "in or to ask, tell your coach: your coach does it for you."
)


LIVE = ("day", "practice")
"""Live messages of a squad's room that it needs on paper as they are now: its times on the event day, and its turns."""


def brief(plan: Plan, schedule: Schedule, brief_at: datetime | None) -> str:
    """The brief as students read it, without the surprises; empty before it is out."""
    return "" if brief_at is None else whole(plan, schedule)


def printed(  # noqa: PLR0913, PLR0917
    plan: Plan,
    squad: Squad,
    members: Sequence[Student],
    brief_text: str,
    now_shown: Sequence[str],
    told: Sequence[tuple[datetime, str]],
    zone: ZoneInfo,
    now: datetime,
) -> Answer:
    """The file, and what is in it; `now_shown` stands in the squad's room and changes."""
    oldest_first = sorted(told, key=lambda one: one[0])
    mine = [(at, text) for at, text in oldest_first if not text.startswith(Sign.JUDGING)]
    names = {one.platform_id: one.name for one in members if one.platform_id is not None}
    told_them = [_notice(at, text, zone, names) for at, text in mine] or ["none yet"]
    sections = [
        ("On paper", [NO_BUTTONS]),
        ("Members", [", ".join(one.name for one in members) or "nobody yet"]),
        ("The brief", on_paper(brief_text, zone).split("\n\n") if brief_text else []),
        ("Times and turns, as they are now", [_shown(text, zone, names) for text in now_shown]),
        ("Notices", told_them),
    ]
    size = paper_size(plan)
    data = pdf(f"{squad.name}: {plan.name}", [one for one in sections if one[1]], size, now)
    with_brief = "The brief and " if brief_text else "The brief is not out yet. "
    message = Message(
        text=f"{with_brief}{count(len(mine), 'notice')} for **{escape(squad.name)}**, to be printed. "
        "The paper holds names: destroy it when the try-out is over.",
        rows=((SQUADS, BACK),),
        files=(Attachment(name=f"squad-{squad.number}.pdf", data=data),),
    )
    return Say(message=message)


def _shown(text: str, zone: ZoneInfo, names: Mapping[int, str]) -> str:
    """What stands in the room now, without the small print about buttons and calls there."""
    return on_paper("\n".join(line for line in text.split("\n") if not line.startswith("-#")), zone, names)


def _notice(at: datetime, text: str, zone: ZoneInfo, names: Mapping[int, str]) -> str:
    """A notice with its time; fingerprints, which nobody compares on paper, are left out."""
    local = at.astimezone(zone)
    kept = "\n".join(line for line in text.split("\n") if not (line.startswith("-#") and "SHA-256" in line))
    return f"{local:%Y-%m-%d %H:%M}  {on_paper(kept, zone, names)}"


def on_paper(text: str, zone: ZoneInfo, names: Mapping[int, str] | None = None) -> str:
    """A message as it reads on paper: no markup, instants in local time, no links into the class server.

    People who are called stand there by their `names`, by account.
    """

    def moment(found: re.Match[str]) -> str:
        at = datetime.fromtimestamp(int(found[1]), zone)
        return "" if found[2] == "R" else f"{at:%A} {at.day} {at:%B} {at:%Y}, {at:%H:%M}"

    text = _INSTANT.sub(moment, _ROOM.sub("the room on the class server", text))
    text = _PERSON.sub(lambda found: (names or {}).get(int(found[1]), "somebody"), text)
    return without_markup(text).replace(", .", ".")
