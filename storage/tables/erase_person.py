"""Erasing one person: names, accounts and words of theirs go out of the file; numbers stay."""

import json
import re
from collections.abc import Collection
from functools import cache
from typing import Any

from storage.records.message import Message
from storage.tables.sql_session import Snapshot, Transaction

SHORTEST = 10
"""Characters that a text of a hand-in has at least, by the schema: one that is shorter without a name is filled up."""


@cache
def erased_message(label: str) -> str:
    """The JSON of a message that says that it was erased; made when first needed, as every validator is."""
    return Message(text=label).model_dump_json()


_READ = ("text", "label", "note", "prompt", "alt")
"""The parts of a message that people read."""


async def forget_student(db: Transaction, student_id: int, label: str) -> None:
    """Put a label in the place of a student's name, let go of account and hand-in; a seat in a squad stays taken."""
    await db.run(
        "UPDATE student SET name = ?, platform_id = NULL, link_code = NULL, manages_server_at = NULL, looking = 0 "
        "WHERE id = ?",
        label,
        student_id,
    )
    await db.run("DELETE FROM hand_in WHERE student_id = ?", student_id)
    await db.run("DELETE FROM class_list_entry WHERE student_id = ?", student_id)
    await db.run("DELETE FROM correction WHERE student_id = ?", student_id)
    await db.run("DELETE FROM wish WHERE ? IN (student_id, other_id)", student_id)
    await db.run("UPDATE rules_question SET student_id = NULL WHERE student_id = ?", student_id)


async def delete_student(db: Transaction, student_id: int) -> None:
    """Take a student who is in no squad out of the file altogether."""
    await db.run("DELETE FROM class_list_entry WHERE student_id = ?", student_id)
    await db.run("DELETE FROM student WHERE id = ? AND squad_id IS NULL", student_id)


async def forget_judge(db: Transaction, judge_id: int, label: str) -> None:
    """Put a label with the judge's number (`%d`) in the place of the name; the marks stay and count."""
    await db.run(
        "UPDATE judge SET name = printf(?, number), platform_id = -id, direct_id = NULL, direct_closed_at = NULL, "
        "room_id = NULL, opted_in_at = NULL WHERE id = ?",
        label,
        judge_id,
    )
    await db.run("DELETE FROM room_claim WHERE address = 'judge/' || ?", judge_id)
    sheets = "(SELECT id FROM sheet WHERE judge_id = ?)"
    await db.run("UPDATE sheet SET comments_json = '{}' WHERE judge_id = ?", judge_id)
    await db.run(f"UPDATE sheet_version SET comments_json = '{{}}' WHERE sheet_id IN {sheets}", judge_id)
    await db.run(f"UPDATE paper_entry SET comments_json = '{{}}' WHERE sheet_id IN {sheets}", judge_id)


_TRYOUT = "tryout_id = ?"
_SQUADS = "squad_id IN (SELECT id FROM squad WHERE tryout_id = ?)"
_JUDGED = "SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE judge.tryout_id = ?"
_RECORDED = (
    ("attempt", "recorded_by", _SQUADS),
    ("presence", "noted_by", _SQUADS),
    ("run_entry", "entered_by", _SQUADS),
    ("surprise_wave", "started_by", _SQUADS),
    ("safety_check", "checked_by", _TRYOUT),
    ("safety_stop", "stopped_by", _TRYOUT),
    ("pad_tap", "tapped_by", f"run_id IN (SELECT id FROM pad_run WHERE {_SQUADS})"),
    ("protest", "decided_by", _TRYOUT),
    ("paper_entry", "entered_by", f"sheet_id IN ({_JUDGED})"),
)
"""Where it stands who has recorded something: table, column, and which rows are of a try-out."""


async def has_recorded(db: Snapshot, tryout_id: int, platform_id: int) -> bool:
    """Whether an account has recorded something in a try-out, such as at the table, whatever it is now."""
    for table, column, of in _RECORDED:
        if await db.value(f"SELECT EXISTS (SELECT 1 FROM {table} WHERE {of} AND {column} = ?)", tryout_id, platform_id):
            return True
    return False


async def forget_account(db: Transaction, tryout_id: int, platform_id: int) -> None:
    """Take an account out of what it recorded, and let it wait no more."""
    for table, column, of in _RECORDED:
        await db.run(f"UPDATE {table} SET {column} = 0 WHERE {of} AND {column} = ?", tryout_id, platform_id)
    await db.run("DELETE FROM waiting_student WHERE tryout_id = ? AND platform_id = ?", tryout_id, platform_id)


async def forget_words(db: Transaction, tryout_id: int, names: Collection[str], label: str) -> int:
    """Erase our messages and answers that hold one of these names or account numbers as a word; return how many.

    `label` takes the place of a whole message, and of names that are no shorter.

    In what other people wrote, and in what may still be sent, the name alone is taken out. A message that is on its way
    at this moment is kept as it is until that is over, because it may have to be found by its words, and then loses it.
    """
    quoted = [json.dumps(name, ensure_ascii=False)[1:-1] for name in names]
    found = re.compile("|".join(rf"(?<!\w){re.escape(name)}(?!\w)" for name in quoted))
    messages = [
        row["id"]
        for row in await db.rows(
            "SELECT id, message_json FROM outbox_message WHERE tryout_id = ? AND state IN ('sent', 'skipped')",
            tryout_id,
        )
        if found.search(row["message_json"])
    ]
    for outbox_id in messages:
        await db.run("UPDATE outbox_message SET message_json = ? WHERE id = ?", erased_message(label), outbox_id)
    answers = [
        row["interaction_id"]
        for row in await db.rows("SELECT interaction_id, answer_json FROM processed_interaction")
        if found.search(row["answer_json"])
    ]
    for interaction_id in answers:
        await db.run("DELETE FROM processed_interaction WHERE interaction_id = ?", interaction_id)
    plain = re.compile("|".join(rf"(?<!\w){re.escape(name)}(?!\w)" for name in names))
    await _strike_from_written(db, tryout_id, found, plain, label)
    await _strike_from_unsent(db, tryout_id, plain, names)
    return len(messages) + len(answers)


async def _strike_from_unsent(db: Transaction, tryout_id: int, plain: re.Pattern[str], names: Collection[str]) -> None:
    """Put `…`, which is never longer than a name, in the place of names in what is on its way or may still be sent."""
    for row in await db.rows(
        "SELECT id, state, coalesce(redacted, message_json) AS said FROM outbox_message "
        "WHERE tryout_id = ? AND state IN ('queued', 'claimed', 'failed')",
        tryout_id,
    ):
        message = json.loads(row["said"])
        without = _without(message, plain)
        without["ping"] = [account for account in message.get("ping", ()) if str(account) not in names]
        if without != message:
            column = "redacted" if row["state"] == "claimed" else "message_json"
            written = json.dumps(without, ensure_ascii=False)
            await db.run(f"UPDATE outbox_message SET {column} = ? WHERE id = ?", written, row["id"])


def _without(part: Any, plain: re.Pattern[str], name: str = "") -> Any:
    """A message, or a part of it, without the names in what people read of it."""
    if isinstance(part, dict):
        return {key: _without(value, plain, key) for key, value in part.items()}
    if isinstance(part, list):
        return [_without(one, plain) for one in part]
    return plain.sub("…", part) if isinstance(part, str) and name in _READ else part


_OTHERS_WORDS = (
    ("sheet", "comments_json", f"id IN ({_JUDGED})"),
    ("sheet_version", "comments_json", f"sheet_id IN ({_JUDGED})"),
    ("paper_entry", "comments_json", f"sheet_id IN ({_JUDGED})"),
    ("reopening", "reason", f"sheet_id IN ({_JUDGED})"),
    ("reopening_request", "reason", _TRYOUT),
    ("late_change", "reason", _TRYOUT),
    ("protest", "text", _TRYOUT),
    ("protest", "reason", _TRYOUT),
    ("incident", "what", _TRYOUT),
    ("incident", "who", _TRYOUT),
    ("incident", "decision", _TRYOUT),
    ("decision", "reason", _TRYOUT),
    ("plan_draft", "reason", _TRYOUT),
    ("safety_stop", "reason", _TRYOUT),
    ("absence", "reason", _SQUADS),
    ("calibration", "sample", _TRYOUT),
    ("feedback", "text", _SQUADS),
    ("hand_in", "reason", _SQUADS),
    ("hand_in", "late_reason", _SQUADS),
    ("offer", "what", _TRYOUT),
    ("rules_question", "text", _TRYOUT),
    *(
        (table, column, _TRYOUT)
        for table in ("rules_answer", "rules_draft")
        for column in ("question", "answer", "change")
    ),
)
"""Texts in which people may have named somebody: table, column, and which rows are of a try-out."""


async def _strike_from_written(
    db: Transaction, tryout_id: int, quoted: re.Pattern[str], plain: re.Pattern[str], label: str
) -> None:
    """Put the label, or `…` for a shorter name, in the place of names in what other people wrote."""
    for table, column, of in _OTHERS_WORDS:
        name = quoted if column.endswith("_json") else plain
        for row in await db.rows(f"SELECT rowid AS place, {column} AS words FROM {table} WHERE {of}", tryout_id):
            if name.search(row["words"]):
                words = name.sub(lambda found: label if len(found[0]) >= len(label) else "…", row["words"])
                if (table, column) == ("hand_in", "reason"):
                    words = words.ljust(SHORTEST, "…")
                await db.run(f"UPDATE {table} SET {column} = ? WHERE rowid = ?", words, row["place"])
