"""What is kept and handed out at the end: protests, the book of incidents, certificates, a record, a spreadsheet."""

from functools import partial

from bot.actions.core.dispatch import Work, act, audit, slow_view, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.results.preview import own_open
from bot.actions.scoring.score_book import outcome_of, score_book
from bot.actions.squads.seats import by_squad
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.results.records_limits import SHORTEST
from bot.rules.results.sealing import sealed
from bot.words.core.class_keys import ClassKey
from bot.words.results import records as words
from bot.words.scoring.exports import Cell, standings_rows
from storage.records.message import Answer, Open, Replace, Say
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import attempts, class_lists, decisions, incident_book, judges, protests
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.RECORDS, "coach")
async def records(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what there is."""
    open_now, noted = await protests.count_open(db, tryout.id), await incident_book.incidents(db, tryout.id)
    return Replace(message=words.records(open_now, len(noted), tryout.state))


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
    what, who, decision = (" ".join(request.fields.get(name, "").split()) for name in ("what", "who", "decision"))
    if len(what) < SHORTEST:
        raise Refusal(ClassReason.INCIDENT_EMPTY)
    await incident_book.note(db, tryout.id, what, who, decision, request.at)
    await audit(db, tryout, request, "incident.noted")
    return Say(message=words.book(await incident_book.incidents(db, tryout.id)))


@act(ClassKey.INCIDENT_STRUCK, "coach")
async def strike(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Take an incident out of the book."""
    if not await incident_book.strike(db, tryout.id, picked):
        raise Refusal(ClassReason.INCIDENT_GONE)
    await audit(db, tryout, request, "incident.struck", incident=picked)
    return Replace(message=words.book(await incident_book.incidents(db, tryout.id)))


@slow_view(ClassKey.CERTIFICATES, "coach")
async def certificates(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """A certificate for every student in a squad, all in one file."""
    if tryout.announced_at is None:
        raise Refusal(ClassReason.CERTIFICATES_EARLY)
    rows = [(one.name, squad.name) for squad, members in await by_squad(db, tryout) if squad for one in members]
    if not rows:
        raise Refusal(ClassReason.CERTIFICATES_NOBODY)
    day = tryout.announced_at.astimezone(schedule_of(tryout).zone).date()
    return partial(words.certificates, tryout.plan, rows, day, request.at)


@slow_view(ClassKey.HEAD_RECORD, "coach")
async def one_page(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """One page in numbers, without a single name, for the head teacher."""
    rows = await by_squad(db, tryout)
    seated = [one for squad, members in rows if squad is not None for one in members]
    sheets = await judges.sheets(db, tryout.id)
    found = await protests.protests(db, tryout.id)
    kinds = [one.kind for one in await decisions.decisions(db, tryout.id)]
    numbers = words.Numbers(
        squads=sum(squad is not None for squad, _ in rows),
        students=len(seated),
        without_account=sum(one.platform_id is None for one in seated),
        without_squad=sum(len(members) for squad, members in rows if squad is None),
        judges=len(await judges.judges(db, tryout.id)),
        sheets=sum(sheet.state == "submitted" for sheet in sheets),
        attempts=len(await attempts.attempts(db, tryout.id)),
        absences=len(await attempts.absences(db, tryout.id)),
        plan_changes=kinds.count("plan"),
        exceptions=len(kinds) - kinds.count("plan"),
        protests=len(found),
        upheld=sum(one.verdict == "upheld" and one.agreed_at is not None for one in found),
        incidents=len(await incident_book.incidents(db, tryout.id)),
    )
    return partial(words.one_page, tryout.plan, schedule_of(tryout), tryout.announced_at, numbers, request.at)


@slow_view(ClassKey.SPREADSHEET, "coach")
async def spreadsheet(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Rosters, and the standings once judging is closed, as a spreadsheet."""
    rows = await by_squad(db, tryout)
    one = await class_lists.class_list(db, tryout.id)
    answers = {entry.student_id: entry.answers for entry in await class_lists.entries(db, tryout.id)}
    roster = words.roster(rows, one.columns if one else (), answers)
    book = None if sealed(tryout.state) else await score_book(db, tryout)
    return partial(_workbook, roster, book, request)


def _workbook(roster: list[list[Cell]], book: ScoreBook | None, request: Request) -> Answer:
    sheets = {"Roster": roster}
    if book is not None:
        result = outcome_of(book, own_open(book, request.who), request.at)
        # A table with gaps would go on naming a wrong winner.
        if result.standings.complete and not result.hidden:
            sheets["Standings"] = standings_rows(result)
    return words.spreadsheet(sheets, request.at)
