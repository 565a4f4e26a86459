"""Checks of rules: the days of a try-out: brief, countdown, deadlines, reminders, the surprise."""
