"""What is said when names are erased."""

from bot.words.plain import escape
from storage.records.message import Message
from storage.records.plan import Plan


def purged(plan: Plan) -> Message:
    """Told in the office when a try-out's names have been erased."""
    return Message(
        text=f"The names, accounts and comments of **{escape(plan.name)}** have been erased, as its plan says. "
        "Numbers, marks and totals stay. Messages in the channels stay until you delete them; "
        "copies in backups go as those are replaced."
    )
