"""What is done, by subject: the days of a try-out: brief, calendar file, reminders, deadline, the surprise."""

KEYS = ("brief", "coach-squad", "plan", "surprise")
KINDS = ("brief", "deadline", "reminder", "signup-closes")
