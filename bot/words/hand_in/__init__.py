"""What people read, by subject: the hand-in of the group piece."""
