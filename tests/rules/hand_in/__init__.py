"""Checks of rules: sign-up, squads and students."""
