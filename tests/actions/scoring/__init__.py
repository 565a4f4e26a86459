"""Checks of actions: from what was recorded to the standings and the results packet."""
