"""The announcement: how long the reason is for which a result that stands is taken back."""

SHORTEST_REASON, LONGEST_REASON = 5, 300
"""Characters of why a result is taken back."""
