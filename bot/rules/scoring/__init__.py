"""What is decided, by subject: from what was recorded to the standings and the results packet."""
