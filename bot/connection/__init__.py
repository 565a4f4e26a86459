"""The connection to the platform: logging in, staying on line, and what is said while that does not work."""
