"""Checks of words: the coach's office: where the try-out stands, set-up, digest, helpers, the next step."""
