"""Questions about the rules, what is being written in answer, and what was published."""

from datetime import datetime

from storage.records.questions import Clarification, ClarificationDraft, Question, QuestionState
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def ask(db: Transaction, tryout_id: int, squad_id: int, student_id: int, text: str, now: datetime) -> int:
    """Note a question and return its id."""
    return await db.insert(
        "INSERT INTO rules_question (tryout_id, squad_id, student_id, text, asked_at) VALUES (?, ?, ?, ?, ?)",
        tryout_id,
        squad_id,
        student_id,
        text,
        stamp(now),
    )


async def question(db: Snapshot, question_id: int) -> Question | None:
    """One question by id."""
    return await db.one(Question, "SELECT * FROM rules_question WHERE id = ?", question_id)


async def waiting(db: Snapshot, tryout_id: int) -> list[Question]:
    """The questions that wait for an answer, oldest first."""
    sql = "SELECT * FROM rules_question WHERE tryout_id = ? AND state = 'open' ORDER BY id"
    return await db.all(Question, sql, tryout_id)


async def count_waiting(db: Snapshot, tryout_id: int) -> int:
    """How many questions wait for an answer."""
    sql = "SELECT count(*) FROM rules_question WHERE tryout_id = ? AND state = 'open'"
    return int(await db.value(sql, tryout_id))


async def settle(db: Transaction, question_id: int, state: QuestionState, number: int | None, now: datetime) -> bool:
    """A question waits no more, and its text is emptied; False when somebody else has dealt with it already."""
    sql = "UPDATE rules_question SET state = ?, number = ?, settled_at = ?, text = '' WHERE id = ? AND state = 'open'"
    return await db.run(sql, state, number, stamp(now), question_id) == 1


async def keep_draft(
    db: Transaction,
    tryout_id: int,
    question_id: int | None,
    number: int | None,
    question: str,
    answer: str,
    change: str,
) -> int:
    """Keep what the coach has written, in the place of an earlier draft for the same purpose; return its id."""
    await drop_draft(db, tryout_id, question_id, number)
    return await db.insert(
        "INSERT INTO rules_draft (tryout_id, question_id, number, question, answer, change) VALUES (?, ?, ?, ?, ?, ?)",
        tryout_id,
        question_id,
        number,
        question,
        answer,
        change,
    )


async def draft(db: Snapshot, draft_id: int) -> ClarificationDraft | None:
    """One draft by id."""
    return await db.one(ClarificationDraft, "SELECT * FROM rules_draft WHERE id = ?", draft_id)


async def draft_for(
    db: Snapshot, tryout_id: int, question_id: int | None, number: int | None
) -> ClarificationDraft | None:
    """What has been written in answer to a question, as a correction of a number, or (without either) unasked."""
    sql = "SELECT * FROM rules_draft WHERE tryout_id = ? AND question_id IS ? AND number IS ?"
    return await db.one(ClarificationDraft, sql, tryout_id, question_id, number)


async def drop_draft(db: Transaction, tryout_id: int, question_id: int | None, number: int | None) -> None:
    """Forget a draft."""
    sql = "DELETE FROM rules_draft WHERE tryout_id = ? AND question_id IS ? AND number IS ?"
    await db.run(sql, tryout_id, question_id, number)


async def forget_wordings(db: Transaction, question_id: int, key: str) -> None:
    """Forget what was written in answer to a question: the draft, and answers kept that hold a button of that key."""
    await db.run("DELETE FROM rules_draft WHERE question_id = ?", question_id)
    await db.run("DELETE FROM processed_interaction WHERE instr(answer_json, ?) > 0", f'"{key}"')


async def next_number(db: Snapshot, tryout_id: int) -> int:
    """The number that the next published answer gets."""
    highest = await db.value("SELECT max(number) FROM rules_answer WHERE tryout_id = ?", tryout_id)
    return int(highest or 0) + 1


async def next_version(db: Snapshot, tryout_id: int, number: int) -> int:
    """The version that the next wording under a number gets."""
    sql = "SELECT max(version) FROM rules_answer WHERE tryout_id = ? AND number = ?"
    return int(await db.value(sql, tryout_id, number) or 0) + 1


async def publish(db: Transaction, one: Clarification) -> None:
    """Keep a published answer.

    Raises:
        Conflict: this version of this number was published meanwhile.
    """
    await db.run(
        "INSERT INTO rules_answer (tryout_id, number, version, question, answer, change, published_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        one.tryout_id,
        one.number,
        one.version,
        one.question,
        one.answer,
        one.change,
        stamp(one.published_at),
    )


async def published(db: Snapshot, tryout_id: int) -> list[Clarification]:
    """The answers as they count now, by number; none once their words were erased."""
    return await db.all(
        Clarification,
        "SELECT * FROM rules_answer AS shown WHERE tryout_id = ? AND answer <> '' AND version = "
        "(SELECT max(version) FROM rules_answer WHERE tryout_id = shown.tryout_id AND number = shown.number) "
        "ORDER BY number",
        tryout_id,
    )
