"""Checks of rules: the hand-in of the group piece."""
