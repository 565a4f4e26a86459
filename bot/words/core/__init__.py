"""What people read, by subject: what every subject uses."""
