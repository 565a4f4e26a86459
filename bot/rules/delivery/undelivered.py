"""What could not be delivered: when the coach is told, and when a trouble counts as over."""

OVER_ONCE_SENT = ("gone", "forbidden", "no-room")
"""Causes of trouble at an address that are over once a message has got through; should they come back, it is told."""


def is_told(address: str, known: bool) -> bool:
    """Whether the coach is told of a trouble: once, and not of the office's own, as nobody reads what is not delivered.

    That stays in the list of what failed.
    """
    return not known and address != "office"
