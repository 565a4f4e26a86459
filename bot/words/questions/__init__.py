"""What people read, by subject: questions about the rules and the published answers."""
