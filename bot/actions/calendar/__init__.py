"""What is done, by subject: the days of a try-out: brief, calendar file, reminders, sign-up closes, deadline, surprise."""

KEYS = ("brief", "coach-squad", "plan", "surprise")
KINDS = ("brief", "deadline", "reminder", "signup-closes")
