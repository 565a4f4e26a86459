"""The facts on which it depends whether a try-out is ready for its next step."""

from collections.abc import Collection, Mapping
from datetime import datetime

from bot.actions.core.schedule_cache import schedule_of
from bot.actions.judging.sheet_queries import all_entries
from bot.actions.squads.members import by_squad
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.roles import MANAGES_REMEMBERED
from bot.rules.event_day.missing_at_day_end import unstarted
from bot.rules.judging.judged_rubrics import is_judged
from bot.rules.office.readiness import Step, lacks
from bot.rules.results.finality import doubt
from bot.rules.results.mixed_team import holds_a_place
from bot.rules.results.place_offers import place_is_free
from bot.rules.results.protests import protest_ends
from bot.rules.squads.small_squads import is_small, still_waits
from bot.words.office import readiness as words
from storage.records.message import Replace
from storage.records.tryout import Tryout
from storage.tables import (
    decisions,
    judges,
    mixed_team,
    place_offers,
    protests,
    questions,
    seen_managers,
    squad_feedback,
    surprises,
    wait_for_members,
)
from storage.tables.sql_session import Snapshot


async def facts(db: Snapshot, tryout: Tryout, now: datetime) -> Facts:
    """Where the try-out stands at this moment."""
    allowed = await decisions.allowed_small(db, tryout.id)
    everyone = await by_squad(db, tryout)
    teams = [(squad, members) for squad, members in everyone if squad is not None]
    waits = await _waits(db, tryout, now, {squad.id: len(members) for squad, members in teams}, allowed)
    panel = await judges.judges(db, tryout.id)
    sheets = await all_entries(db, tryout)
    started = await surprises.started(db, tryout.id)
    found = await protests.protests(db, tryout.id)
    students = any(holds_a_place(one) for one in await mixed_team.offers(db, tryout.id))
    sent = {one.squad_id for one in (await squad_feedback.feedbacks(db, tryout.id)).values() if one.sent_at}
    why = doubt(tryout.plan, tryout.announced_at, found, now) if tryout.announced_at else None
    return Facts(
        now=now,
        state=tryout.state,
        plan=tryout.plan,
        schedule=schedule_of(tryout),
        rooms=frozenset(tryout.rooms),
        squads=len(teams),
        seated=sum(len(members) for _, members in teams),
        alone=sum(len(members) for squad, members in everyone if squad is None),
        small=tuple(
            squad.name
            for squad, members in teams
            if squad.id not in waits and is_small(tryout.plan, len(members), squad.id in allowed)
        ),
        waits=tuple(squad.name for squad, _ in teams if squad.id in waits),
        suspended=tuple(
            one.name for one in await seen_managers.suspended_helpers(db, tryout.id, now - MANAGES_REMEMBERED)
        ),
        judged=is_judged(tryout.plan),
        judges=len(panel),
        judges_ready=sum(judge.opted_in_at is not None for judge in panel),
        sheets=len(sheets),
        sheets_done=sum(sheet.done for sheet in sheets),
        surprises=unstarted(tryout.plan.events, started),
        questions=await questions.count_waiting(db, tryout.id),
        protests=why.protests if why else sum(one.agreed_at is None for one in found),
        protests_end=protest_ends(tryout.plan, tryout.announced_at) if tryout.announced_at else None,
        places_given=not place_is_free(
            tryout.plan.places, len(teams), await place_offers.offers(db, tryout.id), students
        ),
        feedback_left=sum(squad.id not in sent for squad, _ in teams),
    )


async def _waits(
    db: Snapshot, tryout: Tryout, now: datetime, sizes: Mapping[int, int], allowed: Collection[int]
) -> set[int]:
    """The squads that are too small and still have time to find members."""
    untils = await wait_for_members.waiting(db, tryout.id)
    small = {squad for squad, size in sizes.items() if is_small(tryout.plan, size, squad in allowed)}
    return {squad for squad, until in untils.items() if squad in small and still_waits(until, now)}


async def before_step(
    db: Snapshot, tryout: Tryout, now: datetime, step: Step
) -> tuple[tuple[Lack, ...], Replace | None]:
    """What is missing for a step; and the answer to whoever wants to take it, where something stands in its way."""
    lacking = lacks(await facts(db, tryout, now), step)
    stops = any(lack.blocks for lack in lacking)
    return lacking, Replace(message=words.not_ready(step, lacking)) if stops else None
