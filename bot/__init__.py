"""Tenbell: the assistant that runs a class's robotics try-out."""

from zoneinfo import reset_tzpath

# The time-zone data that are locked with the program decide, on every machine; the machine's own may be years older.
reset_tzpath(())
