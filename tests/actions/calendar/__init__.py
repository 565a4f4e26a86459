"""Checks of actions: the days of a try-out: brief, reminders, end of sign-up, deadline."""
