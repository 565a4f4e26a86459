"""Checks of actions: sign-up, squads and students."""
