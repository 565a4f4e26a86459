"""The paper kit of the event day, in one press."""

from dataclasses import replace

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.judging.paper_sheet_print import pages_of
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.rules.event_day.may_arrange import check_runs
from bot.words.calendar import brief
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import paper_kit as words
from bot.words.event_day.paper_kit import Kit, paper_kit
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, squads, surprises
from storage.tables.sql_session import Snapshot


@slow_view(DayKey.DAY_KIT, "coach")
async def print_kit(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Draw everything that the day needs on paper; what is sealed goes into a file of its own."""
    check_runs(tryout)
    taking_part = await squads.squads(db, tryout.id)
    secret = await surprises.waiting(db, tryout)
    known = [event for event in tryout.plan.events if event not in secret]
    panel = await judges.judges(db, tryout.id)
    pages = [
        (judge, [*await pages_of(db, tryout, judge), *await pages_of(db, tryout, judge, sealed=True)])
        for judge in panel
    ]
    kit = Kit(
        plan=tryout.plan,
        sha256=tryout.plan_sha256,
        now=request.at,
        day=await running_day(db, tryout, request.at),
        squads=taking_part,
        members={squad.id: await squads.members(db, squad.id) for squad in taking_part},
        judges={judge.id: judge for judge in panel},
        events=known,
        sheets=[(judge, [page for page in found if page.event in known]) for judge, found in pages],
        brief=words.plain(brief.whole(tryout.plan, schedule_of(tryout)), tryout.plan),
    )
    sealed = replace(
        kit,
        events=secret,
        sheets=[(judge, [page for page in found if page.event in secret]) for judge, found in pages],
        brief=words.task(secret, tryout.plan),
        sealed=True,
    )

    def work() -> Answer:
        return Say(message=words.files(paper_kit(kit), paper_kit(sealed) if secret else None))

    return work
