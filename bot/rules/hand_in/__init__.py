"""What is decided, by subject: the hand-in of the group piece."""
