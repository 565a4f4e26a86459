"""The register of what is kept about people: every column of the schema, what it holds, and when that is erased.

A column is in `PERSONAL` or matches `HARMLESS`; a check compares both with the schema, so that a new column needs its
word here. `storage/tables/privacy.py` does what is said here, and checks compare the two.
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

PERSONAL: dict[str, Personal] = {
    "absence.reason": _NOT_THEIRS,
    "attempt.recorded_by": _ACCOUNT,
    "calibration.picture": Personal("photo", "stays"),
    "calibration.picture_name": _NOT_THEIRS,
    "calibration.sample": _NOT_THEIRS,
    "class_list.columns_json": _NOT_THEIRS,
    "class_list_entry.answers_json": Personal("yes-no", "gone"),
    "class_list_entry.folded": Personal("name", "gone"),
    "class_list_entry.name": Personal("name", "gone"),
    "correction.after_json": Personal("name", "gone"),
    "correction.before_json": Personal("name", "gone"),
    "decision.reason": _NOT_THEIRS,
    "feedback.text": Personal("words", "cut"),
    "hand_in.late_reason": _WORDS,
    "hand_in.photo": Personal("photo", "gone"),
    "hand_in.photo_sha256": Personal("photo", "gone"),
    "hand_in.reason": _WORDS,
    "incident.decision": Personal("words", "cut"),
    "incident.what": Personal("words", "cut"),
    "incident.who": Personal("words", "cut"),
    "judge.direct_id": _ACCOUNT,
    "judge.name": _NAME,
    "judge.platform_id": _ACCOUNT,
    "judge.room_id": _ACCOUNT,
    "live_message.claimed_text": Personal("messages", "later"),
    "live_message.shown": Personal("messages", "later"),
    "offer.what": _NOT_THEIRS,
    "officer.name": Personal("name", "gone"),
    "officer.platform_id": _ACCOUNT,
    "outbox_message.message_json": Personal("messages", "cut"),
    "pad_tap.tapped_by": _ACCOUNT,
    "paper_entry.comments_json": Personal("words", "cut"),
    "paper_entry.entered_by": _ACCOUNT,
    "plan_draft.plan_json": _NOT_THEIRS,
    "plan_draft.reason": _NOT_THEIRS,
    "presence.noted_by": _ACCOUNT,
    "processed_interaction.answer_json": Personal("messages", "cut"),
    "reopening.reason": _NOT_THEIRS,
    "reopening_request.reason": _NOT_THEIRS,
    "room_claim.name": Personal("name", "later"),
    "room_seat.platform_id": Personal("account", "later"),
    "rules_answer.answer": _NOT_THEIRS,
    "rules_answer.change": _NOT_THEIRS,
    "rules_answer.question": _NOT_THEIRS,
    "rules_draft.answer": _NOT_THEIRS,
    "rules_draft.change": _NOT_THEIRS,
    "rules_draft.question": _NOT_THEIRS,
    "rules_question.text": _NOT_THEIRS,
    "run_entry.entered_by": _ACCOUNT,
    "safety_check.checked_by": _ACCOUNT,
    "safety_stop.reason": _NOT_THEIRS,
    "safety_stop.stopped_by": _ACCOUNT,
    "protest.decided_by": _ACCOUNT,
    "protest.reason": Personal("words", "cut"),
    "protest.text": Personal("words", "cut"),
    "sheet.comments_json": Personal("words", "cut"),
    "sheet_version.comments_json": Personal("words", "cut"),
    "squad.folded": _NOT_THEIRS,
    "squad.name": _NOT_THEIRS,
    "squad.room_name": _NOT_THEIRS,
    "squad.skeleton": _NOT_THEIRS,
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
    r"|^panel_(seat\.pinned|size\.judges)$|^(practice|day)_draw\.pool_json$|^day_slot\.(table_number|judges_json|misses)$|^offer\.answer_by$|^officer\.role$"
    r"|^hand_in\.(by_coach|stays)$|^protest\.verdict$|^squad\.(join_code|room_closed|room_outdated|withdrawn)$|^student\.(looking|link_code)$|^wish\.together$|^(extension|practice_claim|grace)\.until$|^practice_claim\.turns$|^proposed_seat\.(new_squad|answer)$|^decision\.(changes_json|sha256)$"
    r"|^conflict_of_interest\.set_by$|^room_seat\.(wanted|present|failed)$|^processed_interaction\.interaction_id$"
    r"|^stopwatch\.attempt$|^plan_proposal\.stamp$|^name_claim\.entry_id$"
    # The log of what was done, and who asked for what: people stand there under pseudonyms.
    r"|^(plan_proposal\.proposed|name_claim\.claimed|reopening_request\.asked)_by$|^audit_log\.(seq|actor|action|details_json|previous|digest)$"
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


async def kept(db: Snapshot) -> list[tuple[str, str, Personal | None, int]]:
    """What is kept about people now: table, column, what it is, and in how many rows something stands there.

    A column that nobody has described is in it too, without a word, so that nothing is kept unseen.
    """
    found = []
    for table, column in await columns(db):
        personal = PERSONAL.get(f"{table}.{column}")
        if personal is None and HARMLESS.search(f"{table}.{column}"):
            continue
        sql = f'SELECT count(*) FROM "{table}" WHERE "{column}" IS NOT NULL AND "{column}" NOT IN (\'\', \'{{}}\', 0)'
        found.append((table, column, personal, int(await db.value(sql))))
    return found
