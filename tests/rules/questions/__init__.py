"""Checks of rules: questions about the rules and the published answers."""
