"""Checks of the transactions."""
