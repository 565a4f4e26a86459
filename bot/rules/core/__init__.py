"""What is decided, by subject: what every subject uses."""
