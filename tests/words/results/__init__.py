"""Checks of words: preview, announcement, the offered place, feedback."""
