"""Checks of actions: what every subject uses."""
