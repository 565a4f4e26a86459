"""What is done, by subject: questions about the rules and the published answers."""

KEYS = ("rules",)
KINDS = ("question", "rules")
