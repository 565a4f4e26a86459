"""What is done, by subject: erasing people: one by request, all after the retention time."""

KEYS = ("earlier", "people", "privacy")
KINDS = ("purge", "tidy")
