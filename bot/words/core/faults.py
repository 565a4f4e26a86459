"""What people read when something went wrong on our side."""

from storage.records.message import Message


def fault(code: str) -> Message:
    """Our own mistake; the code stands in the log."""
    return Message(text=f"Something went wrong on my side, and nothing was changed. Tell your coach this code: {code}.")


def cannot_save() -> Message:
    """The disk is full or read-only."""
    return Message(text="I cannot save anything right now, so nothing was changed. Tell your coach, then try again.")


def out_of_date() -> Message:
    """A button nobody knows any more."""
    return Message(text="This button is out of date. Please use the newest message in this room.")
