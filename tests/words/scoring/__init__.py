"""Checks of words: from what was recorded to the standings and the results packet."""
