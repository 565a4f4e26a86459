"""What is done, by subject: preview, announcement, the offered place, feedback."""
