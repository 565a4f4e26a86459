"""What is listed with the result: what was decided beside the plan, changed in it, or opened again after judging."""

from collections.abc import Mapping, Sequence

from bot.rules.results import listed_changes as rules
from bot.rules.results.protests import was_right
from bot.words.results import listed_changes as words
from storage.records.decisions_and_corrections import Decision
from storage.records.tryout import Tryout
from storage.tables import decisions, late_changes, protests, reopen_after_close, squads
from storage.tables.sql_session import Snapshot


async def plan_changes(db: Snapshot, tryout: Tryout) -> list[words.Change]:
    """What was decided beside the plan or changed in it, and what was opened again after judging, oldest first."""
    names = {squad.id: squad.name for squad in await squads.squads_ever(db, tryout.id)}
    plans = [
        words.Change(one.at, _what(one, names), rules.reason_for_everyone(one))
        for one in await decisions.decisions(db, tryout.id)
    ]
    again = [
        words.Change(one.agreed_at, (words.opened_again(one.sheet_id),), one.reason)
        for one in await reopen_after_close.requests_to_reopen(db, tryout.id)
        if one.agreed_at is not None
    ]
    upheld = [
        words.Change(one.agreed_at, (words.protest_upheld(),), one.reason)
        for one in await protests.protests(db, tryout.id)
        if one.agreed_at is not None and was_right(one)
    ]
    events = {event.key: event.name for event in tryout.plan.events}
    late = [
        words.Change(
            one.agreed_at,
            (words.late_change(one.kind, events.get(one.event, one.event)),),
            one.reason,
        )
        for one in await late_changes.late_changes(db, tryout.id)
        if one.agreed_at is not None
    ]
    return rules.in_order([*plans, *again, *upheld, *late])


def _what(one: Decision, names: Mapping[int, str]) -> Sequence[str]:
    if one.kind == "plan":
        return one.changes
    return (words.exception(one.kind, names.get(one.squad_id or 0, "")),)
