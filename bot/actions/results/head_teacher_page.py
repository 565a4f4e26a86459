"""One page in numbers for the head teacher, without a single name."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.members import by_squad
from bot.rules.results.head_teacher_page import numbers
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import head_teacher_page as words
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import absences, attempts, decisions, incident_book, judges, protests, score_sheets
from storage.tables.sql_session import Snapshot


@slow_view(ClassKey.HEAD_RECORD, "coach")
async def one_page(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """One page in numbers, without a single name, for the head teacher."""
    found = numbers(
        rows=await by_squad(db, tryout),
        judges=len(await judges.judges(db, tryout.id)),
        sheets=await score_sheets.sheets(db, tryout.id),
        attempts=len(await attempts.attempts(db, tryout.id)),
        absences=len(await absences.absences(db, tryout.id)),
        decisions=await decisions.decisions(db, tryout.id),
        protests=await protests.protests(db, tryout.id),
        incidents=len(await incident_book.incidents(db, tryout.id)),
    )
    return partial(words.one_page, tryout.plan, schedule_of(tryout), tryout.announced_at, found, request.at)
