"""The forms in which a coach reads and changes the plan."""

from collections.abc import Callable, Mapping
from datetime import datetime
from decimal import Decimal
from functools import partial
from typing import Any

from bot.actions.core.changed_meanwhile import PLAN, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.plan.change_plan import propose
from bot.actions.plan.form_mistakes import Reading, checked
from bot.rules.core.parse_typed import read_clock, read_date, read_list, read_moment
from bot.rules.plan import edit_plan as rules
from bot.rules.plan.read_plan import write_plan
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.plan import edit_plan as words
from bot.words.plan.form_mistakes import mistakes
from storage.records.message import Answer, Form, Open, Replace, Say, TextField
from storage.records.plan import Calendar, Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PLAN_PANEL, "coach")
async def edit_plan_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the plan in short."""
    return Replace(message=words.edit_plan_panel(tryout.plan, tryout.state))


@view(ActionKey.PLAN_SHOW, "coach")
async def show(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show all of the plan, with its file."""
    return Say(message=words.shown(tryout.plan, schedule_of(tryout), 0, write_plan(tryout.plan)))


@view(ActionKey.PLAN_PAGE, "coach")
async def page(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of the plan."""
    return Replace(message=words.shown(tryout.plan, schedule_of(tryout), page))


@view(ActionKey.PLAN_DATES, "coach")
async def dates(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for dates."""
    return Open(form=stamped(words.dates_form(tryout.plan, tryout.state)))


@act(ActionKey.PLAN_DATED, "coach")
async def dated(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take other dates."""
    now = words.dates_form(tryout.plan, tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_DATES,), PLAN)) is not None:
        return told
    reading = Reading()
    calendar: dict[str, Any] = {
        "days": reading.take(lambda: rules.read_days(request.field("days"))),
        "remind_at": reading.take(lambda: read_clock(request.field("remind"))),
    }
    if "date" in request.fields:
        day, clock = (
            reading.take(lambda: read_date(request.field("date"))),
            reading.take(lambda: read_clock(request.field("time"))),
        )
        calendar["brief"] = datetime.combine(day, clock) if day is not None and clock is not None else None
        calendar["signup_closes"] = reading.take(lambda: read_moment(request.fields.get("closes", "")))
    else:
        calendar["judging_closes"] = reading.take(lambda: read_moment(request.fields.get("judged", "")))
    taken: Calendar = tryout.plan.calendar.model_copy(update=calendar)
    return await propose_changes(db, tryout, request, reading, {"calendar": taken}, (ActionKey.PLAN_DATES, now))


@view(ActionKey.PLAN_BASICS, "coach")
async def basics(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for sections and sizes."""
    return Open(form=stamped(words.basics_form(tryout.plan, tryout.state)))


@act(ActionKey.PLAN_BASED, "coach")
async def based(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take other sections, sizes and places."""
    now = words.basics_form(tryout.plan, tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_BASICS,), PLAN)) is not None:
        return told
    reading = Reading()
    least, most = rules.split_sizes(request.field("sizes"))
    smallest, largest = reading.take(lambda: rules.read_smallest(least)), reading.take(lambda: rules.read_largest(most))
    updates = {
        "sections": read_list(request.field("sections")),
        "squads": tryout.plan.squads.model_copy(update={"smallest": smallest, "largest": largest}),
        "places": reading.take(lambda: rules.read_places(request.field("places"))),
        "announce": request.field("announce"),
    }
    if (day := tryout.plan.event_day) is not None:
        updates["event_day"] = rules.without_old_lessons(day, read_list(request.field("sections")))
    return await propose_changes(db, tryout, request, reading, updates, (ActionKey.PLAN_BASICS, now))


@view(ActionKey.PLAN_WORDS, "coach")
async def texts(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for the name and the brief."""
    return Open(form=stamped(words.words_form(tryout.plan, tryout.state)))


@act(ActionKey.PLAN_WORDED, "coach")
async def worded(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take another name and text."""
    now = words.words_form(tryout.plan, tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_WORDS,), PLAN)) is not None:
        return told
    updates = {"name": request.field("name").strip(), "brief": request.fields.get("brief", "").strip()}
    return await propose_changes(db, tryout, request, Reading(), updates, (ActionKey.PLAN_WORDS, now))


@view(ActionKey.PLAN_WEIGHTS, "coach")
async def weights(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for weights."""
    return Open(form=stamped(words.weights_form(tryout.plan, tryout.state)))


@act(ActionKey.PLAN_WEIGHED, "coach")
async def weighed(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take other weights; an event that is not named keeps its own."""
    now = words.weights_form(tryout.plan, tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (ActionKey.PLAN_WEIGHTS,), PLAN)) is not None:
        return told
    reading = Reading()
    given: dict[str, Decimal] = {}
    for line in request.field("weights").splitlines():
        if line.strip():
            pair = reading.take(partial(rules.read_weight, line, tryout.plan.events, words.the_weight_of))
            given |= dict([pair]) if pair else {}
    events = tuple(
        event.model_copy(update={"weight": given.get(event.key, event.weight)}) for event in tryout.plan.events
    )
    return await propose_changes(db, tryout, request, reading, {"events": events}, (ActionKey.PLAN_WEIGHTS, now))


async def propose_changes(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    reading: Reading,
    updates: dict[str, Any],
    form: tuple[AnyKey, Form],
    said: Callable[[Plan], str] = lambda _: "",
) -> Answer:
    """Propose the plan with these changes, or list everything that was wrong in the form.

    `form` is what opens it, and it as it opens now; `said` is told when the changes are taken.
    """
    plan = None
    if not reading.lines:
        plan = reading.take(lambda: checked(tryout.plan.model_copy(update=updates)))
    if plan is None:
        again, now = form
        return Say(message=mistakes(reading.lines, (), again, _new_texts(now, request.fields)))
    return await propose(db, tryout, request, plan, said(plan))


def _new_texts(now: Form, fields: Mapping[str, str]) -> dict[str, str]:
    """What was typed, but for what stands in the form as it opens again."""
    stands = {one.key: one.value.strip() for one in now.fields if isinstance(one, TextField)}
    return {name: typed for name, typed in fields.items() if typed.strip() != stands.get(name)}
