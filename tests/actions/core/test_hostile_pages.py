"""Hostile words wherever people's words are kept, and every page that is made of them: harmless in each."""

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any
from zlib import crc32

from bot.actions.core.dispatch import ACTIONS, Action, _ask, refused
from bot.actions.core.live_messages import compose
from bot.rules.core.refusal import Refusal
from storage.records.message import Answer, Message
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import State
from storage.tables import helpers, tryouts
from storage.tables.kept_data import PERSONAL
from storage.tables.sql_session import Conflict, Transaction, stamp
from tests.actions.conftest import SERVER, START, Begin
from tests.actions.core.test_hostile_texts import shown, wrong
from tests.actions.core.test_role_matrix import FIELDS, PEOPLE, Undone, asked, put, scene
from tests.actions.hand_in_cast import BRIEF
from tests.actions.scored import whole
from tests.databases import new_store

NAME = "{} www.evil.example \u202e@everyone *x*"
WORDS = f"{NAME}\n# https://evil.example \u202eexe\u202c z\u200b <@123> [t](https://evil.example) ||evil|| `evil`"
ASKS = {"coach": "coach who judges", "manager": "coach who judges", "scorekeeper": "scorekeeper", "typist": "typist",
        "recorder": "scorekeeper", "judge": "judge who agreed", "anyone": "captain"}  # fmt: skip
"""Who asks for an action of a role."""
PLAN_NAMES, PLAN_WORDS = ("name", "unit"), ("brief", "about", "cautions", "levels", "praise", "next")
"""What stands in a plan as its coach writes it."""
AT = f"'{stamp(START)}'"
ROWS = (
    f"protest (tryout_id, squad_id, text, filed_at, verdict, reason) VALUES (1, 1, 'x', {AT}, 'upheld', 'x')",
    f"incident (tryout_id, what, who, decision, happened_at) VALUES (1, 'x', 'x', 'x', {AT})",
    f"decision (tryout_id, at, kind, squad_id, student_id, reason) VALUES (1, {AT}, 'seat', 1, 2, 'x')",
    f"decision (tryout_id, at, kind, squad_id, reason) VALUES (1, {AT}, 'small', 1, 'x')",
    "absence (squad_id, event, excused, reason) VALUES (3, 'run', 1, 'x')",
    f"feedback (squad_id, text, edited_at) VALUES (2, 'x', {AT})",
    f"reopening (sheet_id, reason, at, done_at) SELECT min(id), 'x', {AT}, {AT} FROM sheet",
    "reopening_request (tryout_id, sheet_id, reason, asked_at, agreed_at) "
    f"SELECT 1, min(id), 'x', {AT}, {AT} FROM sheet",
    f"rules_answer (tryout_id, number, version, question, answer, change, published_at) VALUES "
    f"(1, 1, 1, 'x', 'x', 'x', {AT})",
    "late_change (tryout_id, squad_id, event, kind, reason, asked_by, asked_at, agreed_at) "
    f"VALUES (1, 1, 'run', 'correction', 'x', '', {AT}, {AT})",
    "rules_draft (tryout_id, question_id, question, answer) VALUES (1, 1, 'x', 'x')",
    f"safety_stop (tryout_id, event, reason, stopped_by, stopped_at) VALUES (1, 'run', 'x', 910, {AT})",
    f"class_list (tryout_id, columns_json, loaded_at) VALUES (1, '[\"x\"]', {AT})",
    "class_list_entry (tryout_id, name, folded, section, answers_json) VALUES (1, 'x', 'x', '7-A', '{}')",
    "paper_entry (sheet_id, number, entered_by, marks_json, comments_json, at) "
    f"SELECT min(id), 1, 910, '{{}}', '{{}}', {AT} FROM sheet",
    f"waiting_student (tryout_id, platform_id, name, section, asked_at) VALUES (1, 77, 'x', '7-A', {AT})",
    "hand_in (student_id, event, squad_id, reason, late_reason, handed_in_at) VALUES "
    f"(2, 'bunting', 1, 'xxxxxxxxxx', 'x', {AT})",
)
OURS = re.compile(r"<@(?!123>)\d+>")
"""Whom a message of ours names, for the platform to ring."""
STATES: tuple[State, ...] = ("signup", "window", "judging", "settled", "announced")
COUNTED = tuple(
    row for row in ROWS if row.startswith(("protest", "incident", "decision", "feedback", "reopening", "late_change"))
)
ENDS = ("results.", "feedback.", "offer.", "records.", "protest", "judging.", "team.", "office")
"""What is asked for about a result, in a try-out in which everything is recorded."""
JSON = ("class_list.columns_json", "sheet.comments_json", "sheet_version.comments_json", "paper_entry.comments_json")
SHORT = ("squad.name", "class_list.columns_json", "offer.what", "incident.who")
"""Of these our forms take one short line."""
UNSEEN = {
    "offer.what": "shown when it is typed, which the checks of typed words look at",
    "reopening.reason": "the same",
    "safety_stop.reason": "the same",
    "paper_entry.comments_json": "fields of a form until both entries agree",
    "calibration.picture_name": "the name under which we send a picture, ours since it is drawn anew",
    "hand_in.photo": "not a word",
    "plan_draft.plan_json": "a whole plan, compared with the one there is",
    "plan_draft.reason": "shown with the draft alone",
    "rules_draft.change": "a field of a form until it is published",
    "rules_draft.question": "the same",
    "rules_draft.answer": "the same",
    "room_claim.name": "the name of a channel that is being made",
    "squad.folded": "compared and never shown",
    "squad.skeleton": "the same",
    "squad.written_look": "the same",
    "squad.room_name": "the name of a channel, made of the squad's",
    "class_list_entry.folded": "compared and never shown",
    "tryout.audit_key": "a key",
    "wish.other_id": "a number",
    "correction.before_json": "shown as what there is again when it is undone",
    "correction.after_json": "the same",
    "sheet_version.comments_json": "kept for the log, never shown",
}
"""Columns whose words stand on no page, and why."""


@dataclass
class Seen:
    """What people have seen."""

    words: set[str] = field(default_factory=set)
    bad: dict[str, str] = field(default_factory=dict)

    def look(self, where: str, page: Answer | Message) -> None:
        """Look at one answer or message."""
        for text in shown(page):
            self.words.update(re.findall(r"Zq\w*", text))
            if fault := wrong(type(text)(OURS.sub("", text))):
                self.bad[where] = f"{fault}in {text!r}"

    def __or__(self, other: "Seen") -> "Seen":
        return Seen(self.words | other.words, self.bad | other.bad)


def hostile(plan: object, key: str = "") -> Any:
    """A plan as its models write it, with hostile words in each text."""
    if isinstance(plan, dict):
        return {name: value if name == "calendar" else hostile(value, str(name)) for name, value in plan.items()}
    if isinstance(plan, list | tuple):
        return [hostile(one, key) for one in plan]
    if isinstance(plan, str) and key in PLAN_NAMES + PLAN_WORDS:
        return (WORDS if key in ("brief", "about") else NAME).format(f"ZqPlan{crc32(plan.encode()) % 1000}")
    return plan


def marked() -> dict[str, str]:
    """What stands in each column of people's names and words: a word of its own first."""
    columns = [name for name, one in PERSONAL.items() if one.holds in ("words", "name")]
    texts = {}
    for number, column in enumerate(sorted(set(columns) - UNSEEN.keys())):
        short = PERSONAL[column].holds == "name" or column in SHORT
        texts[column] = (NAME if short else WORDS).format(f"Zq{number}q")
    return texts


async def fill(db: Transaction, texts: dict[str, str], rows: tuple[str, ...] = ROWS) -> set[str]:
    """Write the texts into each row there is; which columns have one."""
    for row in rows:
        await db.run(f"INSERT INTO {row}")
    filled = set()
    for column, text in texts.items():
        table, name = column.split(".")
        value = text
        if column in JSON:
            value = json.dumps([text] if name == "columns_json" else {"sheet": text, "reasons": text})
        await db.run(f"UPDATE {table} SET {name} = ?", value)
        if await db.value(f"SELECT count(*) FROM {table}"):
            filled.add(column)
    return filled


async def pages(db: Transaction, action: Action, request: Request) -> list[Answer | Message]:
    """What is answered and what is to be sent; nothing of it is done."""
    before = await db.value("SELECT coalesce(max(id), 0) FROM outbox_message")
    found: list[Answer | Message] = []
    try:
        async with db.undoable():
            prepared = {} if action.before is None else {"prepared": (await _ask(db, action, action.before, request))()}
            answer = await _ask(db, action, action.run, request, **prepared)
            found.append(answer() if callable(answer) else answer)
            queued = await db.rows("SELECT message_json FROM outbox_message WHERE id > ?", before)
            found += [Message.model_validate_json(row["message_json"]) for row in queued]
            raise Undone
    except (Undone, Conflict):
        return found
    except Refusal as refusal:
        return [refused(refusal, action, request)]


def requests(action: Action, found: dict[str, Any]) -> Iterator[Request]:
    """Requests as a message of ours makes them, about the first and the second squad."""
    request = asked(action, ASKS[action.role], found, in_server=True)
    fields = FIELDS | {name: WORDS.format("Zqtyped") for name in ("reason", "why", "question", "answer", "text")}
    yield request.model_copy(update={"name": NAME.format("Zqme"), "fields": fields})
    if request.args or ACTIONS[action.key].arguments[action.run].picked:
        args = tuple("3" if one == "1" else one for one in request.args)
        yield request.model_copy(update={"args": args, "values": ("1",), "name": NAME.format("Zqme")})


async def walk(db: Transaction, found: dict[str, Any], state: State, subjects: tuple[str, ...] = ("",)) -> Seen:
    """Ask for everything, and look at everything that stands in rooms: what people see, and what is wrong with it."""
    await put(db, state)
    found["at"] = BRIEF + timedelta(minutes=5) if state == "window" else START + timedelta(days=1)
    seen = Seen()
    for action in ACTIONS.values():
        for request in requests(action, found) if action.key.startswith(subjects) else ():
            for page in await pages(db, action, request):
                seen.look(str(action.key), page)
    tryout = await tryouts.running(db, SERVER)
    assert tryout is not None
    for key in [row["key"] for row in await db.rows("SELECT key FROM live_message")]:
        message = await compose(db, tryout, key)
        if message is not None:
            seen.look(key, message)
    return seen


async def make_hostile(db: Transaction) -> None:
    """The plan says hostile things, too."""
    plan = Plan.model_validate(hostile(json.loads(await db.value("SELECT plan_json FROM tryout WHERE id = 1"))))
    await db.run("UPDATE tryout SET plan_json = ? WHERE id = 1", plan.model_dump_json())


async def test_words_that_are_kept_are_harmless_on_every_page_and_in_each_message(begin: Begin, tmp_path: Path) -> None:
    texts, seen = marked(), Seen()
    async with new_store(tmp_path / "a.db") as store, store.write() as db:
        found = await scene(db)
        await make_hostile(db)
        filled = await fill(db, texts)
        for state in STATES:
            seen |= await walk(db, found, state)
    asking, _ = await whole(begin)
    async with asking.store.write() as db:
        await make_hostile(db)
        await helpers.add_officer(db, 1, PEOPLE[ASKS["coach"]], "Coach", "coach")
        await fill(db, texts, COUNTED)
        nobody = {"question_id": 1, "trial_id": 1, "offer_id": 1, "sheet": dict.fromkeys(PEOPLE, 1), "stamps": {}}
        for state in ("settled", "announced"):
            await put(db, state)
            seen |= await walk(db, nobody | {"students": dict.fromkeys(PEOPLE, 1)}, state, ENDS)
    assert not seen.bad, "\n".join(f"{where}: {what}" for where, what in seen.bad.items())
    assert filled == texts.keys()
    assert sorted(column for column, text in texts.items() if text.split()[0] not in seen.words) == []
