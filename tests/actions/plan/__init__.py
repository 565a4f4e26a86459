"""Checks of actions: the plan of a try-out: begun, read, checked, changed."""
