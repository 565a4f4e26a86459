"""Checks of rules: what every subject uses."""
