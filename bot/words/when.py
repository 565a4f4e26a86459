"""Instants as the platform shows them: in each reader's own zone and language."""

from datetime import datetime


def full(at: datetime) -> str:
    """Date and time, such as `Monday, 11 January 2027 at 15:30`."""
    return f"<t:{int(at.timestamp())}:F>"


def relative(at: datetime) -> str:
    """How long until or since, such as `in 3 days`."""
    return f"<t:{int(at.timestamp())}:R>"
