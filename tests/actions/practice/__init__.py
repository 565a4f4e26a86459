"""Checks of actions: turns at the practice table."""
