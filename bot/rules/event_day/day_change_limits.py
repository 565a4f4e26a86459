"""What the coach moves on the event day: by how many minutes at once."""

LATEST = 600
"""Minutes by which a day can move at once."""
