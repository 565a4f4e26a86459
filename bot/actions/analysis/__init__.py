"""What is done, by subject: agreement of judges, robustness of the winner, what-if."""

KEYS = ("results",)
