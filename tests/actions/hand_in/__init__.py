"""Checks of actions: the hand-in of the group piece."""
