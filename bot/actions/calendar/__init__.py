"""What is done, by subject: the days of a try-out: brief, calendar file, reminders, deadline."""

KEYS = ("brief", "coach-squad", "plan")
KINDS = ("brief", "deadline", "reminder", "signup-closes")
