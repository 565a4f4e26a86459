"""Checks of actions: preview, announcement, the offered place, feedback."""
