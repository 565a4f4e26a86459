"""Whatever people type, wherever it is shown again: no link, no mention, no markup, nothing hidden; nothing logged."""

import inspect
import logging
import re
import sys
from collections.abc import Iterator
from functools import cache, lru_cache

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.live_messages import compose
from bot.rules.squads.names import is_hidden
from bot.words.core.action_keys import AnyKey
from storage.records.message import Answer, Message, Open, Select
from storage.records.tryout import State
from storage.tables.sql_session import stamp
from tests.actions.conftest import COACH, START, Asking, Begin, button
from tests.actions.core.test_odd_requests import JUDGE, STUDENT, put_back, scene
from tests.actions.hand_in_cast import handing_in

SECRET = "Zq7Zq7"
OPENS = {"rules.drafted": "rules.answer", "table.absent": "table.absence"}
"""By what a form with a stored text sends: what opens it."""
HOSTILE = (
    f"{SECRET} https://evil.example/x HTTP://evil.example www.evil.example discord.gg/evil \u202eexe.gnp\u202c"
    " z\u200bero\u2060\ufeff <@123> <@&4> @everyone [t](https://evil.example) **evil** `evil` ||evil|| \x1b[2J\x07\r"
    "\n# evil\u2028\u0000MTA5.ZXZpbA.evil_token"
)
SHORT = "Zq7 www.evil.example \u202e@everyone"
MOVED = re.compile(
    r"(?<!\\)(?:://evil|\bwww\.evil|discord\.gg|<@|@everyone|\*\*evil|`evil|\|\|evil|\]\()", re.IGNORECASE
)
"""What the platform would make something of."""
VALID = {
    "section": "7-A", "name": "Ida", "squad": "Quiet Forks", "date": "2027-01-11", "time": "15:30", "zone": "UTC",
    "days": "3", "state": "absent", "judge": "1", "value": "3", "typed": "3", "weights": "run: 1", "key": "ABCDEF",
    "reason": "because it is so", "why": "because it is so", "question": "May we?", "answer": "Yes.", "what": "A place",
    "text": "Well done.", "sample": "An invented entry", "change": "A word", "comment": "Well said",
    "late": "We were ill", "level-reasons": "3", "level-theme": "2", "level-talk": "2", "item-sock": "3",
}  # fmt: skip
FIELD = re.compile(r"""field\("([\w-]+)"\)|fields\.get\("([\w-]+)"|key="([\w-]+)",""")
ROLES: dict[str, int] = {"coach": COACH, "manager": COACH, "scorekeeper": COACH, "typist": COACH, "judge": JUDGE}
STATES: tuple[State, ...] = ("drafting", "signup", "window", "judging", "settled", "announced")


@cache
def fields_of(action: AnyKey) -> set[str]:
    """The fields that the forms of an action's subject have."""
    module = sys.modules[ACTIONS[action].run.__module__]
    sources = [module, *(one for one in vars(module).values() if inspect.ismodule(one) and "bot.words" in one.__name__)]
    found = {name for one in sources for names in FIELD.findall(inspect.getsource(one)) for name in names if name}
    return found | ({"note-reasons", "note-sheet"} if "judging" in module.__name__ else set())


def typed(action: AnyKey) -> Iterator[dict[str, str]]:
    """Fields with hostile words in all of them, and in one after the other."""
    names = fields_of(action)
    yield dict.fromkeys(names | VALID.keys(), HOSTILE)
    for name in sorted(names):
        yield {**VALID, name: HOSTILE}
        yield {**VALID, name: SHORT}


def shown(answer: Answer | Message) -> Iterator[str]:
    """What a person reads; not what stands in the fields of a form, where it is typed again."""
    if isinstance(answer, Open):
        for field in answer.form.fields:
            yield from map(Label, (answer.form.title, field.label, field.hint))
            yield from (Label(choice.label) for choice in getattr(field, "choices", ()))
        return
    message = answer if isinstance(answer, Message) else answer.message
    yield message.text
    for row in message.rows:
        yield from (Label(button.label) for button in row) if isinstance(row, tuple) else ()
        yield from (
            (Label(text) for choice in row.choices for text in (choice.label, choice.note))
            if isinstance(row, Select)
            else ()
        )


class Label(str):
    """A text in which the platform makes nothing of markup."""


@lru_cache(maxsize=None, typed=True)
def wrong(text: str) -> str:
    """What is wrong with a text; nothing when it is harmless."""
    moved = None if isinstance(text, Label) else MOVED.search(text)
    hidden = [char for place, char in enumerate(text) if char not in "\n\t" and is_hidden(text, place)]
    return (f"{moved.group()!r} " if moved else "") + (f"hidden {hidden} " if hidden else "")


async def queued(asking: Asking) -> list[tuple[str, Message]]:
    """Every message that is to be sent or kept up to date."""
    async with asking.store.read() as db:
        rows = await db.rows("SELECT address, message_json FROM outbox_message")
        keys = [row["key"] for row in await db.rows("SELECT key FROM live_message")]
        tryout = await asking.tryout()
        living = [(key, await compose(db, tryout, key)) for key in keys]
    found = [(row["address"], Message.model_validate_json(row["message_json"])) for row in rows]
    return found + [(key, message) for key, message in living if message is not None]


async def check_queued(asking: Asking, bad: dict[str, str]) -> None:
    """Nothing is wrong, neither with what was found so far nor with what is to be sent."""
    found = [(address, text) for address, message in await queued(asking) for text in shown(message) if wrong(text)]
    bad |= {address: f"{wrong(text)}in {text!r}" for address, text in found}
    assert not bad, "\n".join(f"{where}: {what}" for where, what in bad.items())


@pytest.mark.parametrize("state", STATES)
async def test_what_people_type_is_harmless_wherever_it_is_shown_and_stands_in_no_log(
    begin: Begin, state: State, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    asking = await scene(lambda *_: begin(**handing_in()))
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        # The names of these people come from the platform, where they may call themselves as they like.
        await db.run("UPDATE judge SET name = ?", SHORT)
        await db.run("UPDATE officer SET name = ?", SHORT)
    bad: dict[str, str] = {}
    for action in sorted(ACTIONS):
        if not fields_of(action) or action.startswith(("tryout.", "plan.")):
            continue
        who = ROLES.get(ACTIONS[action].role, STUDENT)
        key = ":".join([action, *["1"] * len(ACTIONS[action].arguments[ACTIONS[action].run].required)])
        for fields in typed(action):
            async with asking.store.write() as db:
                await put_back(db, tryout.id, state)
            answer = await asking.ask(key, who, fields=fields, name=SHORT)
            bad |= {f"{action} {sorted(f for f in fields if fields[f] == HOSTILE)[:3]}": f"{wrong(text)}in {text!r}"
                    for text in shown(answer) if wrong(text)}  # fmt: skip
    await check_queued(asking, bad)
    assert SECRET not in caplog.text


async def test_words_that_are_meant_to_be_shown_are_shown_and_are_harmless(begin: Begin) -> None:
    asking = await scene(lambda *_: begin(**handing_in()))
    tryout = await asking.tryout()
    spoons, bad, seen = "2", dict[str, str](), dict[str, str]()
    async with asking.store.read() as db:
        sheet = await db.value("SELECT id FROM sheet WHERE judge_id = 1 AND state = 'open'")
    async with asking.store.write() as db:
        await db.run("INSERT INTO judged_event (tryout_id, event, opened_at) VALUES (1, 'bunting', ?)", stamp(START))
    steps: tuple[tuple[State, str, int, dict[str, str]], ...] = (
        ("window", "rules.asked", STUDENT, {"question": HOSTILE}),
        ("window", "rules.panel", COACH, {}),
        ("window", "rules.question:1", COACH, {}),
        ("window", "rules.drafted:1", COACH, {"question": HOSTILE, "answer": HOSTILE}),
        ("window", "Publish", COACH, {}),
        ("window", "rules.answers", STUDENT, {}),
        ("window", "hand-in.save", STUDENT, {"why": HOSTILE}),
        ("window", "hand-in.parts", STUDENT, {}),
        ("window", "hand-in.squad:0:1", COACH, {}),
        (
            "judging",
            f"sheets.save:{sheet}:0:0",
            JUDGE,
            {"level-reasons": "3", "level-theme": "3", "note-sheet": HOSTILE},
        ),
        ("judging", "sheets.look", JUDGE, {}),
        ("judging", "trials.begin:bunting:bunting", COACH, {"sample": HOSTILE}),
        ("judging", "trials.look:1", JUDGE, {}),
        ("judging", f"table.absent:run.socks:{spoons}", COACH, {"state": "excused", "reason": HOSTILE}),
        ("judging", f"people.withdrawn:{spoons}", COACH, {"reason": HOSTILE}),
        ("signup", "people.smalled:1", COACH, {"reason": HOSTILE}),
        ("settled", f"judging.reopen:{sheet}", COACH, {"reason": HOSTILE}),
        ("settled", "results.squad-page:0:3", COACH, {}),
        ("announced", "feedback.comments:0:3", COACH, {}),
    )
    for state, key, who, fields in steps:
        pressed = key
        async with asking.store.write() as db:
            await put_back(db, tryout.id, state)
        if key == "Publish":
            drafted = asking.answers[-1]
            assert not isinstance(drafted, Open)
            pressed = button(drafted.message, key).key
        if key.startswith(tuple(OPENS)):
            word, _, about = key.partition(":")
            pressed = (await asking.form(f"{OPENS[word]}:{about}")).key
        answer = await asking.ask(pressed, who, fields=fields, values=(str(sheet),) if key == "sheets.look" else ())
        action = pressed.partition(":")[0]
        seen |= {f"{action} answers": text for text in shown(answer) if "Zq7" in text}
        bad |= {f"{action} answers": f"{wrong(text)}in {text!r}" for text in shown(answer) if wrong(text)}
    seen |= {address: text for address, message in await queued(asking) for text in shown(message) if "Zq7" in text}
    await check_queued(asking, bad)
    shows = {
        "news",
        "rules",
        "rules.panel",
        "rules.answers",
        "hand-in.parts",
        "hand-in.squad",
        "sheets.look",
        "trials.look",
    }
    assert {one.removesuffix(" answers") for one in seen} >= shows
