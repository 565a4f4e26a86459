"""The command line and the settings."""
