"""What is decided, by subject: judges, score sheets, panels, paper."""
