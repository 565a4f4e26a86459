"""Checks of words: judges, score sheets, panels, paper."""
