"""What is done, by subject: judges, score sheets, panels, paper."""

KEYS = ("judges", "judging", "panels", "paper", "sheets", "ties", "trials")
KINDS = ("chase", "judge")
