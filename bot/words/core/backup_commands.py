"""What `tenbell backup` and `tenbell restore` print."""

from collections.abc import Sequence
from datetime import datetime

MOST_NAMED = 5
"""So many of the newest backups are named where the one that was asked for is not there."""


def saved(path: str) -> str:
    """A backup was made."""
    return f"Saved and checked: {path}"


def saved_only(path: str, deleted: int) -> str:
    """A backup was made, and it is the only one now."""
    before = {0: "There were no earlier ones.", 1: "The earlier one is deleted."}
    return f"Saved and checked: {path}\n{before.get(deleted, f'The {deleted} earlier ones are deleted.')}"


def not_saved(path: str, why: str) -> str:
    """No backup could be made."""
    return f"I could not back up {path}: {why}. Earlier backups are as they were."


def restored(path: str, made_at: datetime | None, kept: str) -> str:
    """The backup stands in the place of the database."""
    since = f" What was entered after {made_at:%Y-%m-%d %H:%M} UTC is not in it." if made_at else ""
    old = f"\nThe file it replaced is kept: {kept}" if kept else ""
    return f"Restored: {path}{since}{old}"


def no_backup(name: str, known: Sequence[str]) -> str:
    """There is no such backup; the newest of those that are `known`, newest first, are named."""
    if not known:
        return f"There is no backup {name}, and none beside the database."
    return f"There is no backup {name}. The newest are: {', '.join(known[:MOST_NAMED])}."


def other_file(name: str) -> str:
    """The file is a database of something else."""
    return f"{name} is not a Tenbell database. Nothing was changed."


def damaged(name: str) -> str:
    """The backup is not sound."""
    return f"{name} is damaged. Nothing was changed; take another backup."


def not_restored(name: str, why: str) -> str:
    """The backup could not be put in place."""
    return f"I could not restore {name}: {why}. Nothing was changed."


def nothing_to_back_up(path: str) -> str:
    """The service is removed, and it had never had a database."""
    return f"There is no database {path}, so there is nothing to back up."
