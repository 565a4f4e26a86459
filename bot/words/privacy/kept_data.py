"""What is kept about people, where and until when, as the coach reads it."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from bot.rules.privacy.retention import INTERACTIONS_KEPT, WITHOUT_A_RESULT
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.csv_cells import Cell, csv_file
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, in_words
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full, length_text
from bot.words.privacy.earlier_tryouts import EARLIER
from storage.records.message import Message
from storage.records.plan import Plan

Line = tuple[str, str, str, str, int]
"""Table, column, what it holds, what becomes of it when one person is erased, and in how many rows it is."""


HOLDS: Mapping[str, str] = {
    "name": "Names",
    "account": "Account numbers",
    "words": "What people wrote",
    "photo": "Photos",
    "yes-no": "Yes and no from the class list",
    "messages": "My messages and answers, with names in them",
    "": "Not described yet",
}
WITH_PERSON: Mapping[str, str] = {
    "gone": "erased with that person",
    "number": "a number takes its place",
    "cut": "the name is cut out, or the message is erased",
    "later": "follows within hours",
    "stays": "stays until the last day",
    "": "nobody has said",
}
TABLES: Mapping[str, str] = {
    "absence": "absences",
    "attempt": "attempts at the table",
    "calibration": "the trial entry of the judges",
    "class_list": "the class list",
    "class_list_entry": "the class list",
    "correction": "what you put right",
    "decision": "reasons of your decisions",
    "feedback": "feedback",
    "hand_in": "parts of the hand-in",
    "incident": "the book of incidents",
    "judge": "judges",
    "late_change": "reasons for correcting an attempt after judging",
    "live_message": "messages that are kept up to date",
    "offer": "offers of the place",
    "officer": "coaches and helpers",
    "outbox_message": "messages sent",
    "pad_tap": "taps at the run pad",
    "paper_entry": "sheets typed in from paper",
    "run_entry": "run sheets typed in from paper",
    "plan_draft": "a changed plan that waits",
    "presence": "who was here",
    "processed_interaction": f"answers of the last {length_text(INTERACTIONS_KEPT)}, of every class server I serve",
    "protest": "protests",
    "reopening": "reasons for opening a sheet again",
    "reopening_request": "reasons for opening judging again",
    "room_claim": "rooms being opened",
    "room_seat": "who is in a squad's room",
    "rules_answer": "published answers",
    "rules_draft": "answers not yet published",
    "rules_question": "questions about the rules",
    "safety_check": "safety checks",
    "safety_stop": "stops for safety",
    "sheet": "score sheets",
    "sheet_version": "earlier versions of score sheets",
    "squad": "squads",
    "student": "students",
    "surprise_wave": "who started the surprise",
    "tryout": "the key to the pseudonyms in the log",
    "wish": "wishes with whom to be",
    "waiting_student": "students who wait to be let in",
}


def register(plan: Plan, kept: Sequence[Line], until: datetime | None, backup_weeks: int) -> Message:
    """All that is kept, by what it is; the file that goes with it names every column.

    `until` is the day on which it is erased, None while the result is not announced; backups forget in so many weeks.
    """
    never = f"{length_text(WITHOUT_A_RESULT)} after the deadline if there is none"
    day = f"{count(plan.retention_days, 'day')} after the announcement, or {never}" if until is None else full(until)
    lines = [
        "**What I keep about people**",
        f"All of it is in one file on the computer I run on, and in its backups. On the last day, {day}, everything "
        "below is erased or becomes a number; marks and totals stay. "
        f"Backups forget within {in_words(backup_weeks)} weeks of nights. "
        "Earlier try-outs are not counted here; each is erased on its own last day.",
    ]
    for holds, title in HOLDS.items():
        inside: dict[str, int] = {}
        for table, _, what, _, rows in kept:
            if what == holds:
                where = TABLES.get(table, table)
                inside[where] = max(inside.get(where, 0), rows)
        if inside:
            some = [f"{where} ({rows})" for where, rows in inside.items() if rows]
            none = [where for where, rows in inside.items() if not rows]
            lines.append(f"**{title}**: {listing(some) or 'none now'}" + (f"; empty: {listing(none)}" if none else ""))
    lines.append("-# Messages already in the channels are kept by the chat platform until somebody deletes them there.")
    head: list[Cell] = ["table", "column", "holds", "when one person is erased", "rows now"]
    listed: list[list[Cell]] = [
        [table, column, HOLDS[what], WITH_PERSON[person], number] for table, column, what, person, number in kept
    ]
    return whole_message("\n".join(lines), ((PEOPLE, EARLIER, BACK),), (csv_file("what-is-kept.csv", [head, *listed]),))
