"""Checks of rules: the plan of a try-out: begun, read, checked, changed."""
