"""What a person can see and do on a phone, and how that travels to the bot."""
