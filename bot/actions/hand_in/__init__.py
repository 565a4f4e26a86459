"""What is done, by subject: the hand-in of the group piece."""

KEYS = ("hand-in", "leaver", "sheets", "time")
KINDS = ("hand-in",)
FOLLOWS = {"squads": "member_parts"}
