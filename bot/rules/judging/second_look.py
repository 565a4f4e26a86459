"""A second look: how far apart two judges' marks must be for it."""

from collections.abc import Collection

FAR_APART = 2
"""Levels between two judges of one squad that deserve a second look."""


def far_apart(levels: Collection[int]) -> bool:
    """Whether two judges' levels on one criterion are so far apart that all are asked to look again."""
    return max(levels) - min(levels) >= FAR_APART
