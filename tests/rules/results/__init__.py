"""Checks of rules: preview, announcement, the offered place, feedback."""
