"""What the coach reads of feedback that squads got for a result which has been corrected since."""

from bot.words.core.number_text import count
from bot.words.results.feedback import FEEDBACK
from storage.records.message import Message


def feedback_again(squads: int) -> str:
    """The feedback of so many squads is for the result before the correction."""
    return (
        f"The feedback that {count(squads, 'squad')} got was for the earlier result. "
        f"It counts as not sent: read it, then send it again."
    )


def feedback_to_send(squads: int) -> Message:
    """The office reads that the feedback of so many squads was for an earlier result."""
    return Message(text=feedback_again(squads), rows=((FEEDBACK.model_copy(update={"style": "main"}),),))
