"""What is done, by subject: what every subject uses."""
