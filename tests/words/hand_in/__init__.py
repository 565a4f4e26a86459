"""Checks of words: the hand-in of the group piece."""
