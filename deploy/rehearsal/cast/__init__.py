"""The invented people of a season, and what they do from setting up to feedback, one activity a file."""
