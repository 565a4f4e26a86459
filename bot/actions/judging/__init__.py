"""What is done, by subject: judges, score sheets, panels, paper."""
