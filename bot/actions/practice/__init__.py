"""What is done, by subject: turns at the practice table."""

KEYS = ("practice",)
KINDS = ("practice", "practice-opens", "practice-shuts", "turns")
FOLLOWS = {"squads": "practice_table"}
