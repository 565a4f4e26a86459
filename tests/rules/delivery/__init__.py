"""Checks of rules: how messages and rooms reach the platform."""
