"""Checks of the rules."""
