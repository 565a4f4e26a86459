"""Erasing every name, account and free text of a whole try-out; numbers, marks and attempts stay."""

from datetime import datetime

from storage.records.people import ErasedLabels
from storage.tables.erase_person import erased_message
from storage.tables.sql_session import Transaction, stamp


async def purge(db: Transaction, tryout_id: int, labels: ErasedLabels, now: datetime) -> None:
    """Erase every name, account and free text of a try-out; numbers, marks and attempts stay.

    What is still to be sent is not sent any more.
    """
    squads = "(SELECT id FROM squad WHERE tryout_id = ?)"
    sheets = "(SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE judge.tryout_id = ?)"
    for label, statement in (
        (
            labels.student,
            "UPDATE student SET name = printf(?, id), platform_id = NULL, link_code = NULL, looking = 0 "
            "WHERE tryout_id = ?",
        ),
        # No squad can be called #1, so that these keys never meet a real one.
        (
            labels.squad,
            "UPDATE squad SET name = printf(?, number), folded = '#' || number, skeleton = '#' || number, "
            "written_look = '#' || number, room_name = '' WHERE tryout_id = ?",
        ),
        (
            labels.judge,
            "UPDATE judge SET name = printf(?, number), platform_id = -id, direct_id = NULL, direct_closed_at = NULL, "
            "room_id = NULL WHERE tryout_id = ?",
        ),
    ):
        await db.run(statement, label, tryout_id)
    for statement in (
        "DELETE FROM officer WHERE tryout_id = ?",
        "DELETE FROM name_claim WHERE entry_id IN (SELECT id FROM class_list_entry WHERE tryout_id = ?)",
        "DELETE FROM class_list_entry WHERE tryout_id = ?",
        "DELETE FROM correction WHERE tryout_id = ?",
        "UPDATE protest SET text = '', reason = '', decided_by = NULL WHERE tryout_id = ?",
        "DELETE FROM incident WHERE tryout_id = ?",
        "DELETE FROM member_offer WHERE tryout_id = ?",
        "DELETE FROM wish WHERE student_id IN (SELECT id FROM student WHERE tryout_id = ?)",
        "DELETE FROM proposed_seat WHERE tryout_id = ?",
        "DELETE FROM squad_proposal WHERE tryout_id = ?",
        "DELETE FROM class_list WHERE tryout_id = ?",
        "DELETE FROM waiting_student WHERE tryout_id = ?",
        "DELETE FROM plan_draft WHERE tryout_id = ?",
        "DELETE FROM plan_proposal WHERE tryout_id = ?",
        "UPDATE decision SET reason = '' WHERE tryout_id = ?",
        "UPDATE reopening_request SET reason = '', asked_by = '' WHERE tryout_id = ?",
        "UPDATE late_change SET reason = '', asked_by = '' WHERE tryout_id = ?",
        "UPDATE tryout SET audit_key = NULL WHERE id = ?",
        "UPDATE rules_question SET text = '', student_id = NULL WHERE tryout_id = ?",
        "UPDATE rules_answer SET question = '', answer = '', change = '' WHERE tryout_id = ?",
        "DELETE FROM rules_draft WHERE tryout_id = ?",
        "UPDATE offer SET what = '' WHERE tryout_id = ?",
        "UPDATE calibration SET sample = '', picture = NULL, picture_name = '' WHERE tryout_id = ?",
        f"DELETE FROM feedback WHERE squad_id IN {squads}",
        f"DELETE FROM hand_in WHERE squad_id IN {squads}",
        f"DELETE FROM room_seat WHERE squad_id IN {squads}",
        f"UPDATE absence SET reason = '' WHERE squad_id IN {squads}",
        f"UPDATE attempt SET recorded_by = 0 WHERE squad_id IN {squads}",
        f"UPDATE presence SET noted_by = 0 WHERE squad_id IN {squads}",
        f"UPDATE run_entry SET entered_by = 0 WHERE squad_id IN {squads}",
        "UPDATE safety_check SET checked_by = 0 WHERE tryout_id = ?",
        "UPDATE safety_stop SET stopped_by = 0, reason = '' WHERE tryout_id = ?",
        f"UPDATE surprise_wave SET started_by = 0 WHERE squad_id IN {squads}",
        f"UPDATE pad_tap SET tapped_by = 0 WHERE run_id IN (SELECT id FROM pad_run WHERE squad_id IN {squads})",
        f"UPDATE sheet SET comments_json = '{{}}' WHERE id IN {sheets}",
        f"UPDATE sheet_version SET comments_json = '{{}}' WHERE sheet_id IN {sheets}",
        f"UPDATE paper_entry SET comments_json = '{{}}', entered_by = 0 WHERE sheet_id IN {sheets}",
        f"UPDATE reopening SET reason = '' WHERE sheet_id IN {sheets}",
        f"DELETE FROM conflict_of_interest WHERE squad_id IN {squads}",
        "UPDATE live_message SET shown = '', claimed_text = NULL WHERE tryout_id = ?",
        "DELETE FROM room_claim WHERE tryout_id = ?",
    ):
        await db.run(statement, tryout_id)
    await db.run(
        "UPDATE outbox_message SET state = 'skipped', why = 'erased', settled_at = ? "
        "WHERE tryout_id = ? AND state = 'queued'",
        stamp(now),
        tryout_id,
    )
    await db.run(
        "UPDATE outbox_message SET message_json = ?, redacted = NULL WHERE tryout_id = ? AND state <> 'claimed'",
        erased_message(labels.name),
        tryout_id,
    )
    # One that is on its way is not sent again, and erased when that is over.
    await db.run(
        "UPDATE outbox_message SET redacted = ?, stale_after = ? WHERE tryout_id = ? AND state = 'claimed'",
        erased_message(labels.name),
        stamp(now),
        tryout_id,
    )
