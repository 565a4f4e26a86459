"""Checks of words: turns at the practice table."""
