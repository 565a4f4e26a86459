"""Who has which sheets, and what may still be changed: asked by everything around judging."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import my_sheets
from bot.rules.judging.judged_rubrics import rubrics
from bot.rules.judging.judges_admin import check_may_change
from bot.rules.judging.my_sheets import Entry, is_listed, just_ran
from bot.rules.judging.reopen_after_close import can_be_reopened, stays_open
from bot.rules.judging.score_sheet import is_changeable
from bot.rules.results.hidden_until_close import sealed
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.score_sheets import Sheet
from storage.records.tryout import Tryout
from storage.tables import (
    absences,
    attempts,
    day_timetable,
    judges,
    live_messages,
    open_events,
    reopen_after_close,
    score_sheets,
    squads,
)
from storage.tables.sql_session import Snapshot, Transaction


async def me_as_judge(db: Snapshot, tryout: Tryout, request: Request) -> Judge:
    """The judge who asks.

    Raises:
        Refusal: `only_judge`.
    """
    me = await judges.judge_of(db, tryout.id, request.who)
    if me is None:
        raise Refusal(Reason.ONLY_JUDGE)
    return me


async def entries_of(db: Snapshot, tryout: Tryout, judge: Judge) -> list[Entry]:
    """A judge's sheets in the judge's own order, by event; squads that were absent from an event are left out."""
    sheets = await score_sheets.sheets_of(db, judge.id)
    return [entry for entry in await _entries(db, tryout, sheets) if is_listed(entry.sheet)]


async def entries_now(db: Snapshot, tryout: Tryout, judge: Judge, now: datetime) -> list[Entry]:
    """The same, with which squads are before the judge at this moment."""
    here = await _here(db, tryout, judge, now)
    return [replace(one, here=(one.event.key, one.squad.id) in here) for one in await entries_of(db, tryout, judge)]


async def _here(db: Snapshot, tryout: Tryout, judge: Judge, now: datetime) -> set[tuple[str, int]]:
    """Event and squad of the judge's interviews that are on, and whoever ran last in an event, a short while ago."""
    found = {
        (slot.event, slot.squad_id)
        for slot in await day_timetable.interviews_at(db, tryout.id, now)
        if judge.id in slot.judges
    }
    last = await attempts.last_runs(db, tryout.id)
    return found | {(one.event, one.squad_id) for one in last if just_ran(one.recorded_at, now)}


async def all_entries(db: Snapshot, tryout: Tryout) -> list[Entry]:
    """The sheets of all judges, by judge; those a judge stepped back from are left out."""
    sheets = await score_sheets.sheets(db, tryout.id)
    return [entry for entry in await _entries(db, tryout, sheets) if is_listed(entry.sheet)]


async def reopenable(db: Snapshot, tryout: Tryout, judge: Judge) -> list[Entry]:
    """A judge's sheets that the coach can open again, or has opened: handed in, or let go when judging was closed."""
    gone = await score_sheets.let_go_ids(db, tryout.id)
    entries = await _entries(db, tryout, await score_sheets.sheets_of(db, judge.id))
    return [entry for entry in entries if can_be_reopened(entry, gone)]


async def entry_of(db: Snapshot, tryout: Tryout, sheet_id: int) -> Entry:
    """One sheet, whoever has it.

    Raises:
        Refusal: `sheet_gone`, when its judge, its squad or its part of the plan is gone.
    """
    sheet = await score_sheets.sheet(db, sheet_id)
    found = await _entries(db, tryout, [sheet] if sheet else [])
    if not found:
        raise Refusal(Reason.SHEET_GONE, entered="")
    return found[0]


async def my_entry(db: Snapshot, tryout: Tryout, judge: Judge, sheet_id: int) -> Entry:
    """One sheet of the judge who asks.

    Raises:
        Refusal: `sheet_gone`.
    """
    entry = await entry_of(db, tryout, sheet_id)
    if entry.sheet.judge_id != judge.id or not is_listed(entry.sheet):
        raise Refusal(Reason.SHEET_GONE, entered="")
    return entry


def check_not_closed(tryout: Tryout) -> None:
    """Whose marks count can still be changed; or a Refusal, as `check_may_change`."""
    check_may_change(sealed(tryout.state), tryout.result_stands)


async def lists_changed(db: Transaction, tryout: Tryout, judge_id: int | None = None) -> None:
    """The living list of one judge, or of all, must show what has changed."""
    await live_messages.mark_stale(db, tryout.id, f"judge/{judge_id or '*'}")


async def _entries(db: Snapshot, tryout: Tryout, sheets: Sequence[Sheet]) -> list[Entry]:
    if not sheets:
        return []
    squad_of = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    opened = await open_events.opened(db, tryout.id)
    again = await reopen_after_close.reopenings(db, tryout.id) if stays_open(tryout.result_stands) else {}
    away = {(absence.squad_id, absence.event) for absence in await absences.absences(db, tryout.id)}
    found = []
    for event, rubric in rubrics(tryout.plan):
        for sheet in sheets:
            squad = squad_of.get(sheet.squad_id)
            if (sheet.event, sheet.measure) != (event.key, rubric.key) or squad is None:
                continue
            if my_sheets.is_there(squad.id, event.key, away):
                reopened = sheet.id in again
                may = is_changeable(opened.get(sheet.event), reopened)
                found.append(Entry(sheet, squad, event, rubric, may, reopened))
    return found
