"""What is decided, by subject: sign-up, squads and students."""
