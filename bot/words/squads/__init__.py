"""What people read, by subject: sign-up, squads and students."""
