"""What is done, by subject: the days of a try-out: brief, countdown, deadlines, reminders, the surprise."""
