"""The register of what is kept about people: every column of the schema, what it holds, and when that is erased.

A column is in `PERSONAL` or matches `HARMLESS`; a check compares both with the schema, so that a new column needs its
word here. `storage/tables/erase_person.py` does what is said here, and checks compare the two.
"""

import re
from dataclasses import dataclass
from typing import Literal

from storage.tables.sql_session import Snapshot

Holds = Literal["name", "account", "words", "photo", "yes-no", "messages"]
"""A name; an account number; what somebody wrote; a photo; a yes or no; our own messages, with all of these."""
With = Literal["gone", "number", "cut", "later", "stays"]
"""When one person is erased: deleted; a number stands in its place; the name is cut out, or the message erased; gone
within hours, once the account is out of the room; not that person's, or needed until the day on which all is erased."""


@dataclass(frozen=True)
class Personal:
    """What a column holds, and what becomes of it when the one person is erased; on the last day all of it goes."""

    holds: Holds
    with_person: With


_NAME, _ACCOUNT = Personal("name", "number"), Personal("account", "gone")
_NOT_THEIRS, _WORDS = Personal("words", "stays"), Personal("words", "gone")
_CUT = Personal("words", "cut")

PERSONAL: dict[str, Personal] = {
    "absence.reason": _CUT,
    "attempt.recorded_by": _ACCOUNT,
    "calibration.picture": Personal("photo", "stays"),
    "calibration.picture_name": _NOT_THEIRS,
    "calibration.sample": _CUT,
    "class_list.columns_json": _NOT_THEIRS,
    "class_list_entry.answers_json": Personal("yes-no", "gone"),
    "class_list_entry.folded": Personal("name", "gone"),
    "class_list_entry.name": Personal("name", "gone"),
    "correction.after_json": Personal("name", "gone"),
    "correction.before_json": Personal("name", "gone"),
    "decision.reason": _CUT,
    "feedback.text": _CUT,
    "hand_in.late_reason": _WORDS,
    "hand_in.photo": Personal("photo", "gone"),
    "hand_in.photo_sha256": Personal("photo", "gone"),
    "hand_in.reason": _WORDS,
    "incident.decision": _CUT,
    "incident.what": _CUT,
    "incident.who": _CUT,
    "judge.direct_id": _ACCOUNT,
    "judge.name": _NAME,
    "judge.platform_id": _ACCOUNT,
    "judge.room_id": _ACCOUNT,
    "late_change.reason": _CUT,
    "live_message.claimed_text": Personal("messages", "later"),
    "live_message.shown": Personal("messages", "later"),
    "offer.what": _CUT,
    "officer.name": Personal("name", "gone"),
    "officer.platform_id": _ACCOUNT,
    "outbox_message.message_json": Personal("messages", "cut"),
    "outbox_message.redacted": Personal("messages", "cut"),
    "pad_tap.tapped_by": _ACCOUNT,
    "paper_entry.comments_json": _CUT,
    "paper_entry.entered_by": _ACCOUNT,
    "plan_draft.plan_json": _NOT_THEIRS,
    "plan_draft.reason": _CUT,
    "presence.noted_by": _ACCOUNT,
    "processed_interaction.answer_json": Personal("messages", "cut"),
    "reopening.reason": _CUT,
    "reopening_request.reason": _CUT,
    "room_claim.name": Personal("name", "later"),
    "room_seat.platform_id": Personal("account", "later"),
    "rules_answer.answer": _CUT,
    "rules_answer.change": _CUT,
    "rules_answer.question": _CUT,
    "rules_draft.answer": _CUT,
    "rules_draft.change": _CUT,
    "rules_draft.question": _CUT,
    "rules_question.text": _CUT,
    "run_entry.entered_by": _ACCOUNT,
    "safety_check.checked_by": _ACCOUNT,
    "safety_stop.reason": _CUT,
    "safety_stop.stopped_by": _ACCOUNT,
    "protest.decided_by": _ACCOUNT,
    "protest.reason": _CUT,
    "protest.text": _CUT,
    "sheet.comments_json": _CUT,
    "sheet_version.comments_json": _CUT,
    "squad.folded": _NOT_THEIRS,
    "squad.name": _NOT_THEIRS,
    "squad.room_name": _NOT_THEIRS,
    "squad.skeleton": _NOT_THEIRS,
    "squad.written_look": _NOT_THEIRS,
    "student.name": _NAME,
    "student.platform_id": _ACCOUNT,
    "surprise_wave.started_by": _ACCOUNT,
    "tryout.audit_key": Personal("account", "stays"),
    "wish.other_id": Personal("words", "gone"),
    "waiting_student.name": Personal("name", "gone"),
    "waiting_student.platform_id": _ACCOUNT,
}

HARMLESS = re.compile(
    r"\.(id|\w+_at|at|state|kind|key|event|measure|section|number|version|position|address|not_before|stale_after|why|tries)$"
    r"|\.(tryout|student|squad|judge|sheet|run|trial|question|attempt|decision|captain)_id$|^database_identity\."
    # Channels and messages of the class server, and how they are being sent.
    r"|^(live_message|outbox_message|squad)\.(old_)?(room|message)_id$|^live_message\.(pinned|pin_open|stale|posts|old_edits|failed)$|^outbox_message\.nonce$"
    r"|^tryout\.(server_id|plan_json|plan_sha256|rooms_json)$|^scheduled_job\.|^delivery_incident\.cause$"
    # Numbers that were scored, and how they came about.
    r"|^attempt\.(items_json|deductions|seconds|faults|contributing|members|run_off|amount|press_seconds|hand_seconds)$"
    r"|\.marks_json$|^absence\.excused$|^judge\.(weight|removed)$|^pad_(run|tap)\.(run_off|item|step|unseen)$|^run_entry\.(entry|fields_json)$|^presence\.here$"
    r"|^panel_(seat\.pinned|size\.judges)$|^(practice|day)_draw\.pool_json$|^day_slot\.(table_number|judges_json|misses)$|^(member_)?offer\.answer_by$|^officer\.role$"
    r"|^hand_in\.(by_coach|stays)$|^protest\.verdict$|^squad\.(join_code|room_closed|room_outdated|withdrawn)$|^student\.(looking|link_code)$|^wish\.together$|^(extension|practice_claim|grace)\.until$|^practice_claim\.turns$|^proposed_seat\.(new_squad|answer)$|^decision\.(changes_json|sha256)$"
    r"|^conflict_of_interest\.set_by$|^room_seat\.(wanted|present|failed)$|^processed_interaction\.interaction_id$"
    r"|^stopwatch\.attempt$|^plan_proposal\.stamp$|^name_claim\.entry_id$"
    # The log of what was done, and who asked for what: people stand there under pseudonyms.
    r"|^(plan_proposal\.proposed|name_claim\.claimed|reopening_request\.asked|late_change\.asked)_by$|^audit_log\.(seq|actor|action|details_json|previous|digest)$"
)


async def columns(db: Snapshot) -> list[tuple[str, str]]:
    """Every column of the schema as it is now: table and column, in order."""
    tables = await db.rows(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
    )
    return [
        (table["name"], row["name"])
        for table in tables
        for row in await db.rows("SELECT name FROM pragma_table_info(?)", table["name"])
    ]


async def kept(db: Snapshot, tryout_id: int) -> list[tuple[str, str, Personal | None, int]]:
    """What is kept about people of a try-out now: table, column, what it is, and in how many rows something stands.

    A column that nobody has described is in it too, without a word, so that nothing is kept unseen. Of a table that
    belongs to no try-out, such as the answers of the last days, all rows are counted.
    """
    found = []
    ours = await _rows_of_tryout(db)
    for table, column in await columns(db):
        personal = PERSONAL.get(f"{table}.{column}")
        if personal is None and HARMLESS.search(f"{table}.{column}"):
            continue
        sql = f'SELECT count(*) FROM "{table}" WHERE "{column}" IS NOT NULL AND "{column}" NOT IN (\'\', \'{{}}\', 0)'
        number = await db.value(f"{sql} AND {ours[table]}", tryout_id) if table in ours else await db.value(sql)
        found.append((table, column, personal, int(number)))
    return found


async def _rows_of_tryout(db: Snapshot) -> dict[str, str]:
    """By table which rows are of a try-out, as a condition with its id: by its own column, or by what it belongs to."""
    ours = {table: "tryout_id = ?" for table, column in await columns(db) if column == "tryout_id"}
    ours["tryout"] = "id = ?"
    belongs = await db.rows(
        'SELECT one.name AS child, key."from" AS link, key."table" AS parent '
        "FROM sqlite_schema AS one, pragma_foreign_key_list(one.name) AS key WHERE one.type = 'table'"
    )
    for _ in range(3):
        for row in belongs:
            if row["child"] not in ours and row["parent"] in ours:
                inside = f"SELECT id FROM {row['parent']} WHERE {ours[row['parent']]}"
                ours[row["child"]] = f"{row['link']} IN ({inside})"
    return ours
