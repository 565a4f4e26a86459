"""The events of a plan are shown, and the texts and criteria of one are changed by form: no file is needed."""

from bot.actions.core.changed_meanwhile import PLAN, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.plan.edit_plan import propose_changes
from bot.actions.plan.form_mistakes import Reading
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.edit_events import criteria_as_typed, read_criteria, rubric_in_form
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.plan import edit_events as words
from storage.records.message import Answer, Open, Replace
from storage.records.plan import Event, Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_EVENTS, "coach")
async def events(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the events, to be changed one by one or all anew."""
    return Replace(message=words.events(tryout.plan, tryout.state))


@view(ActionKey.PLAN_EVENT, "coach")
async def event(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Open the form of one event."""
    return Open(form=stamped(words.event_form(_event(tryout.plan, picked), tryout.state)))


@act(ActionKey.PLAN_EVENT_KEPT, "coach")
async def event_kept(db: Transaction, tryout: Tryout, request: Request, event_key: str, stamp: str = "") -> Answer:
    """Take other texts and criteria of one event; what marks refer to keeps its key."""
    old, reading = _event(tryout.plan, event_key), Reading()
    now = words.event_form(old, tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_EVENTS,), PLAN)) is not None:
        return told
    updates: dict[str, object] = {
        "name": request.field("name").strip(),
        "about": request.fields.get("about", "").strip(),
        "cautions": tuple(line for line in map(str.strip, request.fields.get("cautions", "").splitlines()) if line),
    }
    rubric = rubric_in_form(old)
    if rubric is not None and "criteria" in request.fields:
        read = reading.take(lambda: read_criteria(request.field("criteria"))) or ()
        changed = rubric.model_copy(update={"criteria": criteria_as_typed(rubric, read)})
        updates["measures"] = tuple(changed if one is rubric else one for one in old.measures)
    new = old.model_copy(update=updates)
    made = tuple(new if one is old else one for one in tryout.plan.events)
    return await propose_changes(db, tryout, request, reading, {"events": made}, (ActionKey.PLAN_EVENTS, now))


def _event(plan: Plan, key: str) -> Event:
    for one in plan.events:
        if one.key == key:
            return one
    raise Refusal(Reason.EVENT_GONE)
