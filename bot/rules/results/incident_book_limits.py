"""The book of incidents: how long an entry is."""

SHORTEST, LONGEST = 3, 500
"""Characters of what happened."""
LONGEST_WHO, LONGEST_DECISION = 200, 300
"""Characters of who was concerned, and of what was decided."""
