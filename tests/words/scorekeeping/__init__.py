"""Checks of words: attempts and times at the table."""
