"""The commands of the command line by subject, and how a command answers whoever typed it."""
