"""Checks of what goes out."""
