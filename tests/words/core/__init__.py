"""Checks of words: what every subject uses."""
