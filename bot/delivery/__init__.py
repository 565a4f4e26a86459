"""What goes out to the class server: the courier, the alarm that wakes it, and the dress of each message."""
