"""What is done, by subject: the days of a try-out: brief, countdown, deadlines, reminders, the surprise."""

KEYS = ("brief", "coach-squad", "surprise")
KINDS = ("brief", "deadline", "reminder", "signup-closes")
