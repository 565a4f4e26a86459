"""What is decided, by subject: questions about the rules and the published answers."""
