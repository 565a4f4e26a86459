"""Handing out score sheets so that they match who should see whom: open events, panels and ties of interest."""

from datetime import datetime

from bot.actions.core.followers import when_judges_change
from bot.rules.judging import sheets_follow_panels as rules
from bot.rules.judging.conflicts_of_interest import may_not_mark
from bot.rules.judging.connectedness import Seen
from bot.rules.judging.judged_rubrics import rubrics
from bot.rules.judging.panels import judges_per_squad as per_squad_of
from bot.rules.judging.presentation_order import places_kept, places_of_all
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.tryout import Tryout
from storage.tables import conflicts_of_interest, judges, open_events, panels, score_sheets, squads
from storage.tables.sql_session import Snapshot, Transaction


async def judges_per_squad(db: Snapshot, tryout: Tryout, event: Event, rubric: Rubric) -> int | None:
    """How many judges see each squad: as the coach chose, else as the plan says; None for all of them."""
    return per_squad_of(rubric, await panels.size(db, tryout.id, event.key, rubric.key))


async def tied_seats(db: Snapshot, tryout: Tryout) -> frozenset[Seen]:
    """Who may not see whom, as (squad, judge)."""
    ties = [(one.squad_id, one.judge_id) for one in await conflicts_of_interest.ties(db, tryout.id)]
    return may_not_mark(ties, await conflicts_of_interest.own_squads(db, tryout.id))


async def assign_sheets(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Bring all sheets in line with who should see whom.

    Missing sheets are handed out, untouched ones that are wanted no more are taken back, sheets of tied judges are
    set aside with all that stands in them, and given back when the tie is gone. Whatever has been begun by a judge
    without a tie stays.
    """
    opened = await open_events.opened(db, tryout.id)
    taking_part = await squads.squads(db, tryout.id)
    tied = await tied_seats(db, tryout)
    for event, rubric in rubrics(tryout.plan):
        if event.key in opened and opened[event.key].closed_at is None:
            await _deal(db, tryout, (event, rubric), taking_part, tied, now)
    await when_judges_change.tell(db, tryout, now)


async def _deal(
    db: Transaction,
    tryout: Tryout,
    what: tuple[Event, Rubric],
    taking_part: list[Squad],
    tied: frozenset[Seen],
    now: datetime,
) -> None:
    event, rubric = what
    here = (event.key, rubric.key)
    panel = await judges.judges(db, tryout.id)
    have = {
        (sheet.squad_id, sheet.judge_id): sheet
        for sheet in await score_sheets.sheets(db, tryout.id)
        if (sheet.event, sheet.measure) == here
    }
    squad_ids, numbers = [squad.id for squad in taking_part], {judge.id: judge.number for judge in panel}
    if await judges_per_squad(db, tryout, event, rubric) is None:
        wanted = rules.wanted(squad_ids, numbers, None, tied)
        order = places_of_all(numbers, squad_ids)
    else:
        seats = [(one.squad_id, one.judge_id) for one in await panels.seats(db, tryout.id, *here)]
        wanted = rules.wanted(squad_ids, numbers, seats, tied)
        places_now = {seat: sheet.position for seat, sheet in have.items()}
        order = places_kept(wanted, places_now, begun=any(sheet.version for sheet in have.values()))
    for seat in sorted(have.keys() - wanted):
        sheet = have[seat]
        match rules.wanted_no_more(sheet, seat in tied):
            case "set aside":
                await score_sheets.set_aside(db, sheet, now)
            case "taken back":
                await score_sheets.drop_untouched(db, sheet.id)
    new = []
    for squad, judge in sorted(wanted, key=lambda seat: (seat[1], order[seat])):
        if (squad, judge) in have and have[squad, judge].state == "recused":
            await score_sheets.give_back(db, have[squad, judge].id)
        if (squad, judge) not in have or have[squad, judge].position != order[squad, judge]:
            new.append((judge, squad, *here, order[squad, judge]))
    await score_sheets.add_sheets(db, new)
