"""What could not be delivered: how many people who could not be let into a squad's room are named."""

MOST_NAMED = 25
"""More people than this are counted and not named."""
