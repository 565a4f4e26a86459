"""What is decided, by subject: preview, announcement, the offered place, feedback."""
