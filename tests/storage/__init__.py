"""Checks of the store, its tables and its records."""
