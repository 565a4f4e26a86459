"""What is decided, by subject: what is said: where it goes, in which order, how often and how fast; private rooms."""
