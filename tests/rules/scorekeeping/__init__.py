"""Rules of the table: attempts and what is missing."""
