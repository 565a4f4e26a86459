"""What the office reads when the names of a whole try-out have been erased."""

from bot.words.core.plain_text import escape
from storage.records.message import Message
from storage.records.plan import Plan


def purged(plan: Plan, by_number: bool) -> Message:
    """Told in the office when a try-out's names have been erased; `by_number`: old entries of the log hold accounts."""
    log = (
        "Old entries of the log of what was done still name people by account number."
        if by_number
        else "The log of what was done stays, but nobody can find out any more who did it."
    )
    return Message(
        text=f"The names and comments of **{escape(plan.name)}** have been erased. "
        f"Numbers, marks and totals stay. {log} "
        "Messages in the channels stay until you delete them; copies in backups go as those are replaced."
    )
