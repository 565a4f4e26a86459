"""The coaches' own book of incidents: read, noted, struck out."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.incident_book import read_what
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import incident_book as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import incident_book
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.INCIDENTS, "coach")
async def incidents(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show the book of incidents."""
    return Replace(message=words.book(await incident_book.incidents(db, tryout.id), page))


@view(ClassKey.INCIDENT, "coach")
async def ask_incident(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for an incident."""
    return Open(form=words.incident_form())


@act(ClassKey.INCIDENT_NOTED, "coach")
async def note(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Write an incident into the book."""
    what = read_what(request.fields.get("what", ""))
    who, decision = (" ".join(request.fields.get(name, "").split()) for name in ("who", "decision"))
    await incident_book.note(db, tryout.id, what, who, decision, request.at)
    await audit(db, tryout, request, "incident.noted")
    return Say(message=words.book(await incident_book.incidents(db, tryout.id)))


@act(ClassKey.INCIDENT_STRUCK, "coach")
async def strike(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Take an incident out of the book."""
    if not await incident_book.strike(db, tryout.id, picked):
        raise Refusal(ResultReason.INCIDENT_GONE)
    await audit(db, tryout, request, "incident.struck", incident=picked)
    return Replace(message=words.book(await incident_book.incidents(db, tryout.id)))
