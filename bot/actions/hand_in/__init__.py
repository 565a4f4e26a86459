"""What is done, by subject: the hand-in of the group piece."""
