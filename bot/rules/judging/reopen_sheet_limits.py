"""A sheet, or all of judging, is opened again: how long the reason is."""

SHORTEST_REASON, LONGEST_REASON = 5, 200
"""Characters of why a sheet is opened again."""
