"""A squad that does not take part in an event: noted as absent, or excused by a coach with a reason."""

from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.core.followers import when_table_changes
from bot.actions.core.roles import roles
from bot.actions.scorekeeping.may_record import check_may_change, note_if_late
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.rules.scorekeeping import absences as rules
from bot.rules.scorekeeping.may_record import check_open
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.scorekeeping import absences as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.scores import Absence
from storage.records.tryout import Tryout
from storage.tables import absences, attempts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_ABSENCE, "scorekeeper")
async def ask_absence(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Open the form that notes whether a squad takes part."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    await check_may_change(db, tryout, spot, spot.absence is None)
    excuses = "coach" in await roles(db, tryout, request)
    return Open(form=stamped(words.absence_form(spot.event, spot.squad, about, spot.absence, excuses)))


@act(ActionKey.TABLE_ABSENT, "scorekeeper")
async def note_absence(
    db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, stamp: str = ""
) -> Answer:
    """Note that a squad is absent or excused, or takes part after all."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    excuses = "coach" in await roles(db, tryout, request)
    now = words.absence_form(spot.event, spot.squad, about, spot.absence, excuses)
    noted = Noted(("table.absence",), {"squad": squad_id, "event": spot.event.key})
    opens = (ActionKey.TABLE_ABSENCE, about, squad_id)
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    state, reason = request.fields.get("state", "absent"), request.fields.get("reason", "")
    absence = rules.read_absence(spot.squad.id, spot.event.key, state, reason, spot.absence, excuses)
    await keep_absence(db, tryout, request, spot, absence)
    return Replace(message=words.absence_noted(spot.event, spot.squad, absence, about))


async def keep_absence(db: Transaction, tryout: Tryout, request: Request, spot: Spot, absence: Absence | None) -> None:
    """Keep that a squad does not take part in an event, or that it does.

    Raises Refusal: `absence_attempts`, `table_settled`.
    """
    await check_may_change(db, tryout, spot, spot.absence is None)
    if absence is None:
        await absences.clear_absence(db, spot.squad.id, spot.event.key)
    else:
        rules.check_no_attempts(await attempts.attempts(db, tryout.id), spot.squad, spot.event.key)
        await absences.set_absence(db, absence)
    if absence is not None:
        await note_if_late(db, tryout, request, spot)
    await audit(
        db, tryout, request, "table.absence", squad=spot.squad.id, event=spot.event.key, state=rules.state_of(absence)
    )
    await when_table_changes.tell(db, tryout, request.at)
