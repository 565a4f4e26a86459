"""A new set of events is typed in a form and takes the place of those of the plan: no file is needed."""

from bot.actions.core.changed_meanwhile import PLAN, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.plan.edit_plan import propose_changes
from bot.actions.plan.form_mistakes import Reading
from bot.rules.core.parse_typed import read_clock, read_list
from bot.rules.plan.new_set_of_events import check_may_be_made, practice_table, read_new_set, tie_breaks
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.plan import new_set_of_events as words
from bot.words.plan.new_event_template import to_events
from storage.records.message import Answer, Open
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_RENEW, "coach")
async def renew(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form that makes a new set of events."""
    check_may_be_made(tryout.state)
    return Open(form=stamped(words.renew_form(tryout.plan)))


@act(ActionKey.PLAN_RENEWED, "coach")
async def renewed(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take a new set of events, and times of the practice table."""
    check_may_be_made(tryout.state)
    now = words.renew_form(tryout.plan)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_RENEW,), PLAN)) is not None:
        return told
    reading = Reading()
    present = tryout.plan.events
    made = reading.take(lambda: read_new_set(request.field("events"), present, to_events)) or ()
    typed = read_list(request.fields.get("turns", ""))
    turns = tuple(at for one in typed if (at := reading.take(lambda one=one: read_clock(one))) is not None)  # type: ignore[misc]
    updates = {
        "events": made,
        "tie_breaks": tie_breaks(made, tryout.plan.tie_breaks),
        "practice": practice_table(turns, tryout.plan.practice),
    }
    return await propose_changes(db, tryout, request, reading, updates, (ActionKey.PLAN_RENEW, now), words.renewed)
