"""What is done, by subject: the class list is attached, and students pick themselves from it."""

KEYS = ("class-list",)
