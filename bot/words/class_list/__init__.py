"""What people read, by subject: the class list, as the coach and as students see it."""
