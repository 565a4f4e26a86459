"""What is decided, by subject: the connection to the platform, how it is made, watched and made anew."""
