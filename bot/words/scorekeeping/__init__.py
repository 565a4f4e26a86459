"""What people read, by subject: attempts and times at the table."""
