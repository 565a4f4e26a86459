"""What is done, by subject: what is said: outbox messages on their way, where they go, and what became of them."""

KEYS = ("post",)
