"""What is done, by subject: sign-up, squads and students."""

KEYS = (
    "coach-squad",
    "correct",
    "find",
    "grace",
    "join",
    "link",
    "merge",
    "people",
    "proposal",
    "squad",
    "student",
    "wish",
)
KINDS = ("grace", "grace-reminder", "roster", "signup")
APART = {"merge": "merge_squads"}
"""Takes judges and practice turns along, which a class that signs up does without."""
