"""What is done, by subject: what is said: letters on their way, where they go, and what became of them."""
