"""Checks of rules: the class list."""
