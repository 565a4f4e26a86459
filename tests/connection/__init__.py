"""Checks of the connection to the platform."""
