"""Playing a whole season with the bot as its own process, and what is left of it: figures, standings, the page."""
