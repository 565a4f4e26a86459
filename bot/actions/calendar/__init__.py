"""What is done, by subject: the days of a try-out: brief, reminders, end of sign-up, deadline, the surprise."""

KEYS = ("brief", "coach-squad", "surprise")
KINDS = ("brief", "deadline", "reminder", "signup-closes")
