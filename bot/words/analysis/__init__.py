"""What people read, by subject: agreement of judges, robustness of the winner, what-if."""
