"""Checks of words: questions about the rules and the published answers."""
