"""Checks of actions: attempts and times at the table."""
