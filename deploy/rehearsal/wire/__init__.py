"""What travels: request bodies, objects and events as the platform writes them, and how a message reads."""
