"""What people read, by subject: from what was recorded to the standings and the results packet."""
