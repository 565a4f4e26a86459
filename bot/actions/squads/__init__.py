"""What is done, by subject: sign-up, squads and students."""

KEYS = ("coach-squad", "correct", "find", "grace", "join", "link", "people", "proposal", "squad", "student", "wish")
KINDS = ("grace", "grace-reminder", "roster", "signup")
