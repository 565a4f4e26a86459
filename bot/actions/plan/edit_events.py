"""The events of a plan, made and changed by form: no file is needed."""

from bot.actions.core.dispatch import act, view
from bot.actions.core.opened_forms import PLAN, overtaken
from bot.actions.plan.edit_plan import propose_changes
from bot.actions.plan.form_mistakes import Reading
from bot.rules.core.parse_dates import read_clock
from bot.rules.core.parse_lists import read_criteria, read_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.opened_form import stamped
from bot.words.plan import edit_events as words
from bot.words.plan.new_plan_events import read_new_set
from storage.records.message import Answer, Open, Replace
from storage.records.plan import Event, Plan, Practice
from storage.records.plan_measures import Criterion, Rubric
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_EVENTS, "coach")
async def events(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the events, to be changed one by one or all anew."""
    return Replace(message=words.events(tryout.plan, tryout.state))


@view(ActionKey.PLAN_RENEW, "coach")
async def renew(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form that makes a new set of events."""
    _check_open(tryout)
    return Open(form=stamped(words.renew_form(tryout.plan)))


@act(ActionKey.PLAN_RENEWED, "coach")
async def renewed(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take a new set of events, and times of the practice table."""
    _check_open(tryout)
    now = words.renew_form(tryout.plan)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_RENEW,), PLAN)) is not None:
        return told
    reading = Reading()
    present = tryout.plan.events
    made = reading.take(lambda: read_new_set(request.field("events"), present)) or ()
    typed = read_list(request.fields.get("turns", ""))
    turns = tuple(at for one in typed if (at := reading.take(lambda one=one: read_clock(one))) is not None)  # type: ignore[misc]
    practice = None
    if turns:
        before = tryout.plan.practice
        practice = before.model_copy(update={"times": turns}) if before else Practice(times=turns)
    keys = [event.key for event in made]
    order = [key for key in tryout.plan.tie_breaks if key in keys]
    updates = {"events": made, "tie_breaks": (*order, *(key for key in keys if key not in order)), "practice": practice}
    return await propose_changes(db, tryout, request, reading, updates, (ActionKey.PLAN_RENEW, now), words.renewed)


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
    rubric = words.rubric_of(old)
    if rubric is not None and "criteria" in request.fields:
        read = reading.take(lambda: read_criteria(request.field("criteria"))) or ()
        changed = rubric.model_copy(update={"criteria": _criteria(rubric, read)})
        updates["measures"] = tuple(changed if one is rubric else one for one in old.measures)
    new = old.model_copy(update=updates)
    made = tuple(new if one is old else one for one in tryout.plan.events)
    return await propose_changes(db, tryout, request, reading, {"events": made}, (ActionKey.PLAN_EVENTS, now))


def _criteria(rubric: Rubric, read: tuple[tuple[str, tuple[str, ...]], ...]) -> tuple[Criterion, ...]:
    """The typed lines with the keys and weights of those that stood there; more lines get keys of their own."""
    taken = {one.key for one in rubric.criteria}
    free = (key for number in range(1, 100) if (key := f"line-{number}") not in taken)
    made = []
    for place, (name, levels) in enumerate(read):
        old = rubric.criteria[place] if place < len(rubric.criteria) else None
        if old is None:
            made.append(Criterion.model_construct(key=next(free), name=name, levels=levels))
        else:
            made.append(old.model_copy(update={"name": name, "levels": levels}))
    return tuple(made)


def _event(plan: Plan, key: str) -> Event:
    for one in plan.events:
        if one.key == key:
            return one
    raise Refusal(Reason.EVENT_GONE)


def _check_open(tryout: Tryout) -> None:
    """What is measured stays once the brief is out."""
    if tryout.state not in ("drafting", "signup"):
        raise Refusal(Reason.STRUCTURE_FIXED)
