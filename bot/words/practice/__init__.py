"""What people read, by subject: turns at the practice table."""
