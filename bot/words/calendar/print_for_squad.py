"""What a squad reads, on paper."""

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule
from bot.words.calendar.brief import whole
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.keys import key
from bot.words.core.paper import on_paper, pdf
from bot.words.core.plain_text import count, escape
from storage.records.message import Answer, Attachment, Button, Message, Say
from storage.records.people import Squad, Student
from storage.records.plan import Plan


def brief(plan: Plan, schedule: Schedule) -> str:
    """The brief as students read it, without the surprises."""
    return whole(plan, schedule)


def printed(
    plan: Plan,
    squad: Squad,
    members: Sequence[Student],
    brief_text: str,
    told: Sequence[tuple[datetime, str]],
    zone: ZoneInfo,
    now: datetime,
) -> Answer:
    """The file, and what is in it."""
    sections = [
        ("Members", [", ".join(one.name for one in members) or "nobody yet"]),
        *([("The brief", on_paper(brief_text, zone).split("\n\n"))] if brief_text else []),
        ("Notices", [_notice(at, text, zone) for at, text in told] or ["none yet"]),
    ]
    size = "letter" if plan.zone.startswith(("America/", "US/", "Canada/")) else "a4"
    data = pdf(f"{squad.name}: {plan.name}", sections, size, now)
    squads = Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads")
    with_brief = "The brief and " if brief_text else "The brief is not out yet. "
    message = Message(
        text=f"{with_brief}{count(len(told), 'notice')} for **{escape(squad.name)}**, to be printed. It holds names: "
        "destroy it when the try-out is over.",
        rows=((squads, BACK),),
        files=(Attachment(name=f"squad-{squad.number}.pdf", data=data),),
    )
    return Say(message=message)


def _notice(at: datetime, text: str, zone: ZoneInfo) -> str:
    local = at.astimezone(zone)
    return f"{local:%Y-%m-%d %H:%M}  {on_paper(text, zone)}"
