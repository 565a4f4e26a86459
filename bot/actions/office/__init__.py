"""What is done, by subject: the coach's office: where the try-out stands, set-up, digest, helpers, the next step."""

KEYS = ("office", "people", "setup", "signup", "tryout")
KINDS = ("digest",)
