"""What is decided, by subject: agreement of judges, robustness of the winner, what-if."""
