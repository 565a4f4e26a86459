"""What is said to the coach when the nightly backup does not work."""

from storage.records.message import Message


def failing(why: str) -> Message:
    """The coach learns that backups do not work; said once until one works again."""
    return Message(
        text=f"I could not back up the try-out last night: {why}. The try-out goes on and nothing is lost. "
        "Please ask whoever runs me to look at the disk; I try again every night."
    )
