"""What people read, by subject: judges, score sheets, panels, paper."""
