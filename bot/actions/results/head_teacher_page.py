"""One page in numbers for the head teacher, without a single name."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.seats import by_squad
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
    rows = await by_squad(db, tryout)
    seated = [one for squad, members in rows if squad is not None for one in members]
    sheets = await score_sheets.sheets(db, tryout.id)
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
        absences=len(await absences.absences(db, tryout.id)),
        plan_changes=kinds.count("plan"),
        exceptions=len(kinds) - kinds.count("plan"),
        protests=len(found),
        upheld=sum(one.verdict == "upheld" and one.agreed_at is not None for one in found),
        incidents=len(await incident_book.incidents(db, tryout.id)),
    )
    return partial(words.one_page, tryout.plan, schedule_of(tryout), tryout.announced_at, numbers, request.at)
