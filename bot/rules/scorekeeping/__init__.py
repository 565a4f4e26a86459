"""What is decided, by subject: attempts and times at the table."""
