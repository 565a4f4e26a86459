"""Checks of actions: questions about the rules and the published answers."""
