"""What is decided, by subject: the plan of a try-out: begun, read, checked, changed."""
