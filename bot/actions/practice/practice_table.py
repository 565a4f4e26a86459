"""The practice table as it is now: the live messages that show it, and who has which turn for whoever asks."""

from collections.abc import Collection
from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from bot.actions.core.dispatch import view
from bot.actions.core.live_messages import live_board, live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.squads.asking_student import my_squad_of
from bot.actions.squads.squads_changed import when_squads_change
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice import booking as rules
from bot.rules.practice.practice_table import PracticeTable, has_begun, shown_in_room, shown_on_board, slots
from bot.rules.practice.share_and_leftover_turns import has_used_share, share_of_each
from bot.words.core.action_keys import ActionKey
from bot.words.practice import practice_table as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, practice, scheduled_jobs, squads
from storage.tables.sql_session import Snapshot, Transaction

OPENS = "practice-opens"
"""The kind of the jobs that say when a squad that can book nothing now can book again."""
SHUTS = "practice-shuts"
"""The kind of those that say until when a squad that has had its share can book what is left over."""
_KINDS = {"opens": OPENS, "shuts": SHUTS}
"""By what changes for a squad."""


async def table_of(db: Snapshot, tryout: Tryout) -> PracticeTable | None:
    """All turns of a try-out and who has them; None where the plan has no practice."""
    if tryout.plan.practice is None:
        return None
    return PracticeTable(
        practice=tryout.plan.practice,
        slots=slots(tryout.plan, schedule_of(tryout)),
        turns=tuple(await practice.turns(db, tryout.id)),
        squads=tuple(squad.id for squad in await squads.squads(db, tryout.id)),
        claims=await practice.claims(db, tryout.id),
        lot=await practice.draw(db, tryout.id) if tryout.plan.practice.first_round == "draw" else None,
    )


async def the_table(db: Snapshot, tryout: Tryout) -> PracticeTable:
    """The same, or a Refusal: `no_practice`."""
    table = await table_of(db, tryout)
    if table is None:
        raise Refusal(Reason.NO_PRACTICE)
    return table


def check_begun(tryout: Tryout) -> None:
    """There may be turns to see, or a Refusal: `practice_not_yet` (brief: seconds)."""
    rules.check_begun(tryout.state, schedule_of(tryout).brief)


def check_running(tryout: Tryout) -> None:
    """Turns can be booked and given back now, or a Refusal: as `check_begun`; `practice_over`."""
    rules.check_running(tryout.state, schedule_of(tryout).brief)


def begin_of(seconds: int) -> datetime:
    """The beginning that a choice or a button carries, in seconds since 1970; Refusal `out_of_date`."""
    try:
        return datetime.fromtimestamp(seconds, UTC)
    except (ValueError, OverflowError, OSError):
        raise Refusal(Reason.OUT_OF_DATE) from None


async def names_of(db: Snapshot, tryout: Tryout) -> dict[int, str]:
    """The names of the squads that take part."""
    return {squad.id: squad.name for squad in await squads.squads(db, tryout.id)}


async def show_practice(db: Transaction, tryout: Tryout) -> None:
    """Have the turns shown in the room of every squad, and on the board."""
    table = await table_of(db, tryout)
    if table is not None:
        await _show(db, tryout, table, table.squads)


@when_squads_change
async def squads_changed(db: Transaction, tryout: Tryout, squad_ids: Collection[int]) -> None:
    """Have the turns shown to squads that are new, and anew to the others where every squad's share has changed."""
    if not has_begun(tryout.state):
        return
    table = await table_of(db, tryout)
    if table is None:
        return
    new = [one for one in squad_ids if await live_messages.by_key(db, tryout.id, f"practice/{one}") is None]
    gone = [one for one in squad_ids if one not in table.squads]
    before = replace(table, squads=(*(one for one in table.squads if one not in new), *gone))
    await _show(db, tryout, table, [*(table.squads if share_of_each(before) != share_of_each(table) else new), *gone])


async def turns_changed(db: Transaction, tryout: Tryout, before: PracticeTable, squad_ids: Collection[int]) -> None:
    """Show anew who has which turn, on the board and to these squads; to all where it changes what all can book."""
    table = await table_of(db, tryout)
    if table is not None:
        same = (share_of_each(before), before.any_free) == (share_of_each(table), table.any_free)
        await _show(db, tryout, table, squad_ids if same else table.squads)


async def _show(db: Transaction, tryout: Tryout, table: PracticeTable, squad_ids: Collection[int]) -> None:
    """Place these squads' live messages, or have them shown anew, and the board's."""
    if rules.is_running(tryout.state):
        await live_messages.place_all(
            db, tryout.id, [(f"practice/{one}", f"squad/{one}") for one in squad_ids if one in table.squads]
        )
        parts = len(words.boards(ZoneInfo(tryout.plan.zone), table, await names_of(db, tryout)))
        for number in range(await live_messages.count(db, tryout.id, "turns/*") + 1, parts + 1):
            await live_messages.place(db, tryout.id, f"turns/{number}", "signup")
    for one in squad_ids:
        if not rules.is_running(tryout.state) or one not in table.squads:
            await live_messages.mark_stale(db, tryout.id, f"practice/{one}")
    await live_messages.mark_stale(db, tryout.id, "turns/*")


@live_message("practice")
async def turns_in_room(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The turns of one squad, in its own room."""
    table = await table_of(db, tryout)
    squad = int(key.partition("/")[2])
    if table is None or squad not in table.squads or not shown_in_room(tryout.state):
        return None
    return words.squads_turns(table, squad, rules.is_running(tryout.state), await _can_book(db, tryout, table, squad))


@live_board("turns")
async def turns_board(db: Snapshot, tryout: Tryout) -> list[Message]:
    """The public board of turns; gone once the window is over."""
    table = await table_of(db, tryout)
    if table is None or not shown_on_board(tryout.state):
        return []
    parts = words.boards(ZoneInfo(tryout.plan.zone), table, await names_of(db, tryout))
    return [words.board(parts, number) for number in range(len(parts))]


async def plan_openings(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Note from when, or until when, each squad can book beside its share; its live message is shown anew then, too."""
    table = await table_of(db, tryout)
    if table is None:
        return
    wanted: dict[tuple[str, str], datetime] = {}
    for squad in table.squads:
        change = rules.next_change(table, squad, now)
        if change is not None:
            what, at = change
            wanted[_KINDS[what], due_key(squad, at)] = at
    planned = {
        (kind, row.key): row
        for kind in (OPENS, SHUTS)
        for row in await scheduled_jobs.waiting_jobs(db, tryout.id, kind)
    }
    for door, row in planned.items():
        if door not in wanted:
            await scheduled_jobs.settle_job(db, row.id, "cancelled", now)
    for (kind, row_key), at in wanted.items():
        if (kind, row_key) not in planned:
            await scheduled_jobs.schedule_job(db, tryout.id, kind, row_key, at)
    for changed in sorted(_shown(planned) ^ _shown(wanted)):
        await live_messages.mark_stale(db, tryout.id, f"practice/{changed.partition('.')[0]}")


def _shown(doors: Collection[tuple[str, str]]) -> set[str]:
    """What live messages say of it: from when by its moment, but only that something is left over."""
    return {row_key if kind == OPENS else row_key.partition(".")[0] for kind, row_key in doors}


async def _can_book(db: Snapshot, tryout: Tryout, table: PracticeTable, squad: int) -> datetime | bool:
    """Whether a squad can book a turn, or from when, as it is planned."""
    opens = await scheduled_jobs.waiting_jobs(db, tryout.id, OPENS, f"{squad}.")
    if opens:
        return opens[0].at
    if not has_used_share(table, squad):
        return table.any_free
    return bool(await scheduled_jobs.waiting_jobs(db, tryout.id, SHUTS, f"{squad}."))


async def may_book_now(db: Snapshot, tryout: Tryout, squad: int, now: datetime) -> datetime | bool:
    """Whether a squad can book a turn, or from when, by what is kept now; never once practice is over."""
    table = await the_table(db, tryout)
    return rules.is_running(tryout.state) and rules.may_book(table, squad, now)


def due_key(squad_id: int, begin: datetime) -> str:
    """Names what is due to a squad at a turn: the job that reminds of it, or that opens or shuts the pool."""
    return f"{squad_id}.{int(begin.timestamp())}"


@view(ActionKey.PRACTICE_MINE)
async def mine(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the turns of my squad."""
    table = await the_table(db, tryout)
    check_begun(tryout)
    _, squad, _ = await my_squad_of(db, tryout, request)
    can = rules.may_book(table, squad.id, request.at)
    return Say(message=words.squads_turns(table, squad.id, rules.is_running(tryout.state), can))


@view(ActionKey.PRACTICE_TURNS)
async def turns(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Show who has which turn."""
    table = await the_table(db, tryout)
    check_begun(tryout)
    found = words.boards(ZoneInfo(tryout.plan.zone), table, await names_of(db, tryout))
    message = words.all_turns(found, page or 0)
    return Say(message=message) if page is None else Replace(message=message)


@job(SHUTS)
@job(OPENS)
async def opens(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """What a squad can book beside its share has changed: its button goes on, unless others were quicker, or off."""
    await scheduled_jobs.settle_job(db, row.id, "done", now)
    if rules.is_running(tryout.state):
        await plan_openings(db, tryout, now)
        await live_messages.mark_stale(db, tryout.id, f"practice/{row.key.partition('.')[0]}")
