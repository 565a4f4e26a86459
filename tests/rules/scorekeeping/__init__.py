"""Checks of rules: attempts, absences and the next squad at the table."""
