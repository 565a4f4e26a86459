"""What goes out to the class server, and everything that happens on time."""
