"""What is done, by subject: attempts and times at the table."""

KEYS = ("table",)
