"""Checks of words: sign-up, squads and students."""
