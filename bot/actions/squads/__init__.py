"""What is done, by subject: sign-up, squads and students."""
