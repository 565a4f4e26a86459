"""Whoever looks for a sealed surprise with keys of their own making finds nothing: students, and helpers before it."""

import datetime as dt
import io
from itertools import product
from typing import Any

import pypdf
import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.live_messages import compose
from bot.rules.core.roles import Role
from storage.records.plan import Practice
from storage.records.plan_measures import Criterion
from storage.tables import helpers
from storage.tables.sql_session import stamp
from tests.actions.conftest import START, Asking, Begin
from tests.actions.event_day.test_surprise_waves import start_for, two_classes
from tests.actions.table_help import labels, press

KEEPER, STRANGER, SEALED, JUDGE = 801, 900, 10_300, 201
WORDS = ("Paper chain", "Teamwork", "Communication", "no jumping", "all talk", "8:00")
"""The surprise's name, its measures, what is marked, its safety line, its levels, its limit."""
HINTS = ("Paper chain", "chain", "no jumping")
"""The same with the key of the event, where nobody has typed it."""
AIMED: dict[str, tuple[object, ...]] = {
    "about": ("chain.time", "chain.team"),
    "event_key": ("chain",),
    "measure_key": ("team", "time"),
    "piece": ("chain",),
    "page": (0, 1, 2, 3),
    "number": (0, 1, 2),
    "squad_id": (3, 1),
    "choice": ("section-1", "squad-3"),
    "code": (1,),
    "item_key": ("sock",),
    "way": ("more",),
    "reason": ("slip",),
    "counts": (3,),
    "off": (0,),
    "kind": ("news",),
    "begins": (int(START.timestamp()),),
    "started": (int(START.timestamp() * 1000),),
}
PICKED = ("chain.time", "chain", "3")
FIELDS = {
    "typed": "", "section": "7-B", "name": "Ida Quill", "measure": "chain.time", "squad": "3", "value": "1:30",
    "question": "What is the surprise?", "reason": "because", "state": "absent", "here": "", "time": "1:30",
    "faults": "0", "finished": "yes", "text": "3", "code": "CODE3", "why": "It holds.",
}  # fmt: skip


async def in_full_swing(begin: Begin) -> Asking:
    """Two classes on the event day, with all that students can look at: brief, turns, parts to hand in, answers."""
    asking = await two_classes(begin)
    plan = (await asking.tryout()).plan
    run, bunting, chain = plan.events
    levels = ("one shouts", "two talk", "three talk", "all talk")
    talk = Criterion(key="talk", name="Communication", levels=levels)
    time, team = chain.measures
    chain = chain.model_copy(update={"measures": (time, team.model_copy(update={"criteria": (talk,)}))})
    events = (run, bunting.model_copy(update={"hand_in": True}), chain)
    plan = plan.model_copy(update={"practice": Practice(times=(dt.time(7, 50),), minutes=20), "events": events})
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET plan_json = ?, brief_at = ?", plan.model_dump_json(), stamp(START))
    await asking.ask("rules.asked", 10_100, fields={"question": "May we swap wheels?"})
    kept = await asking.filled("rules.answer:1", fields={"question": "May we swap wheels?", "answer": "Yes."})
    assert "May we swap wheels?" in kept.text
    await press(asking, kept, labels(kept)[0])
    return asking


def keys(action: Any) -> list[str]:
    """The action with every combination of arguments that aims at the surprise."""
    takes = action.arguments[action.run]
    if str(action.key).startswith(("squad.le", "squad.remove")):
        return []  # who has left the squad looks at nothing any more
    sizes = {len(takes.required), len(takes.names)}
    return [
        ":".join([str(action.key), *map(str, args)])
        for size in sorted(sizes)
        for args in product(*(AIMED.get(name, (1,)) for name in takes.names[:size]))
    ]


async def found(asking: Asking, who: int, held: set[Role]) -> list[tuple[str, str]]:
    """What somebody reads of the surprise, whatever they ask for; with the key that showed it."""
    seen = []
    for action in sorted(ACTIONS.values(), key=lambda one: one.key):
        if action.role not in held:
            continue
        for key in keys(action):
            for value in PICKED:
                text = (await asking.ask(key, who, values=(value,), fields=FIELDS)).model_dump_json()
                seen += [(key, word) for word in WORDS if word in text]
    return seen


@pytest.mark.parametrize("who", [SEALED, STRANGER])
async def test_a_student_whose_wave_has_not_begun_finds_nothing_with_keys_of_their_own(begin: Begin, who: int) -> None:
    asking = await in_full_swing(begin)
    await start_for(asking, "7-A")
    assert await found(asking, who, {"anyone"}) == []


async def test_before_any_wave_helpers_at_the_table_find_nothing_either(begin: Begin) -> None:
    asking = await in_full_swing(begin)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "typist")
    assert await found(asking, KEEPER, {"anyone", "scorekeeper", "typist", "recorder"}) == []
    assert await found(asking, JUDGE, {"anyone", "judge"}) == []


async def test_at_the_table_nothing_can_be_put_on_record_for_a_squad_that_does_not_know_it(begin: Begin) -> None:
    asking = await in_full_swing(begin)
    await start_for(asking, "7-A")
    room = len(await asking.messages_to("squad/3"))
    for action in sorted(ACTIONS.values(), key=lambda one: one.key):
        if action.role in {"scorekeeper", "recorder"} and not action.key.startswith("stop."):
            for key in keys(action):
                if ":1" not in key.replace(":1:1", "") or ":3" in key:
                    await asking.ask(key, KEEPER, values=("3",), fields=FIELDS)
    async with asking.store.read() as db:
        for table in ("attempt", "absence", "presence", "pad_run", "run_entry"):
            sql = f"SELECT count(*) FROM {table} WHERE squad_id IN (3, 4) AND event = 'chain'"
            assert await db.value(sql) == 0, table
    assert len(await asking.messages_to("squad/3")) == room


async def test_what_the_coach_prints_for_a_sealed_squad_and_what_judges_print_hold_nothing_of_it(begin: Begin) -> None:
    asking = await in_full_swing(begin)
    await start_for(asking, "7-A")
    for key in ("coach-squad.print:3", "day.kit"):
        for file in (await asking.message(key)).files:
            if file.name == "sealed.pdf":
                continue
            text = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(file.data)).pages)
            assert not [word for word in WORDS if word in text], (key, file.name)


async def test_for_the_others_it_stays_sealed_in_every_action_that_needs_no_role_and_every_live_message(
    begin: Begin,
) -> None:
    asking = await two_classes(begin)
    await start_for(asking, "7-A")
    seen = []
    for action in sorted(ACTIONS):
        if ACTIONS[action].role == "anyone":
            for args in ("", ":0", ":3", ":chain", ":bunting"):
                answer = await asking.ask(
                    f"{action}{args}",
                    SEALED,
                    values=("3",),
                    fields={"typed": "", "section": "7-B", "name": "Ida Quill"},
                )
                text = answer.model_dump_json()
                seen += [(action, word) for word in HINTS if word in text and word not in f"{action}{args}"]
    assert seen == []
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        keys = [row["key"] for row in await db.rows("SELECT key FROM live_message")]
        for key in [*keys, "brief", "roster/1", "day/3", "practice/3", "turns/1", "hand-in/3/bunting"]:
            try:
                message = await compose(db, tryout, key)
            except LookupError:
                continue
            text = message.model_dump_json() if message else ""
            assert not [word for word in HINTS if word in text], key
