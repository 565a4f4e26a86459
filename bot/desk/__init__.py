"""What comes in from the class server: commands, buttons and forms, one file per activity."""
