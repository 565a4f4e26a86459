"""Checks of rules: agreement of judges, robustness of the winner, what-if."""
