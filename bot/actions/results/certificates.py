"""A certificate for every student who took part, all in one file."""

from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.members import by_squad
from bot.rules.results.certificates import made_for
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import certificates as words
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@slow_view(ClassKey.CERTIFICATES, "coach")
async def certificates(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """A certificate for every student in a squad, all in one file."""
    rows = [(one.name, squad.name) for one, squad in made_for(tryout.announced_at, await by_squad(db, tryout))]
    assert tryout.announced_at is not None
    day = tryout.announced_at.astimezone(schedule_of(tryout).zone).date()
    return partial(words.certificates, tryout.plan, rows, day, request.at)
