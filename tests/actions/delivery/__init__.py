"""Checks of actions: messages on their way, and what came late."""
