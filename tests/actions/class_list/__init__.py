"""Checks of actions: the class list."""
