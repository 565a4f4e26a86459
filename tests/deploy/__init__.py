"""Checks of the commands that set Tenbell up, and of what carries it to a machine that stays on."""
