"""What people read, by subject: the plan of a try-out: begun, read, checked, changed."""
