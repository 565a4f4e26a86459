"""What is decided, by subject: how long what is kept about people stays, and what is left of one who is erased."""
