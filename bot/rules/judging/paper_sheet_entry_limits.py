"""Paper sheets typed in twice: up to how many differences are settled one by one."""

MOST_TO_SETTLE = 5
"""What one form holds; more differences than this mean that one of the entries is of another sheet."""
