"""Names that students pick from the class list: of how many taken ones the coach is told."""

MOST_TOLD = 3
"""Taken names that one person picks of which the coach is told; more is a game, and would bury what else is in the
office."""
