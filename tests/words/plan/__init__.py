"""Checks of words: the plan of a try-out: begun, read, checked, changed."""
