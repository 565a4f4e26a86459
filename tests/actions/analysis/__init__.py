"""Checks of actions: agreement of judges, robustness of the winner, what-if."""
