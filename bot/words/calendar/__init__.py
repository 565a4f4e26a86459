"""What people read, by subject: the days of a try-out: brief, reminders, end of sign-up, deadline."""
