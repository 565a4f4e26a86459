"""A class server on loopback and the people of a made-up season, who try the bot out through the wire alone."""
