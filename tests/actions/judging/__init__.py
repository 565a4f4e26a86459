"""Checks of actions: judges, score sheets, panels, paper."""
