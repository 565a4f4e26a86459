"""What is decided, by subject: turns at the practice table."""
