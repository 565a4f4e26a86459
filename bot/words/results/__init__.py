"""What people read, by subject: preview, announcement, the offered place, feedback."""
