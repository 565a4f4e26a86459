"""Checks of rules: reaching the platform again."""
