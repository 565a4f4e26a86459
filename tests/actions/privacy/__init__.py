"""Checks of actions: erasing people: one by request, all after the retention time."""
