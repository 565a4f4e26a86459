"""Checks of rules: turns at the practice table."""
