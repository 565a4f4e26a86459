"""What is done, by subject: turns at the practice table."""
