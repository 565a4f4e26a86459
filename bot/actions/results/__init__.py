"""What is done, by subject: preview, announcement, the offered place, feedback."""

KEYS = ("feedback", "offer", "protest", "protests", "records", "results", "team")
KINDS = ("announce", "offer", "offer-reminder", "protests", "team", "team-reminder")
