"""Checks of what comes in."""
