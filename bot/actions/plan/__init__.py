"""What is done, by subject: the plan of a try-out: begun, read, checked, changed."""

KEYS = ("day", "days", "plan")
