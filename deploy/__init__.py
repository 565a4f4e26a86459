"""What sets Tenbell up, tries it out, and carries it to a machine where it stays on."""
