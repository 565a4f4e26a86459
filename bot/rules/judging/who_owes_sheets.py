"""Who owes what: which judges are named who still owe sheets, and in which order."""

from collections.abc import Sequence

from bot.rules.judging.my_sheets import Entry
from storage.records.people import Judge


def in_order(judges: Sequence[Judge], entries: Sequence[Entry]) -> list[tuple[Judge, list[Entry]]]:
    """Each judge who owes something with the sheets owed, by the number of the judge."""
    owed = [(judge, owed_by(judge, entries)) for judge in sorted(judges, key=lambda judge: judge.number)]
    return [(judge, sheets) for judge, sheets in owed if sheets]


def owed_by(judge: Judge, entries: Sequence[Entry]) -> list[Entry]:
    """The sheets that a judge still has to mark or to finish, whether or not that can be done now."""
    return [entry for entry in entries if entry.sheet.judge_id == judge.id and entry.owed]
