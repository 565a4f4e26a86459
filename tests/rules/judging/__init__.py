"""Checks of rules: judges, score sheets, panels, paper."""
