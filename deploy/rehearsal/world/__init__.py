"""What the class server is about: people, roles, rooms and messages, who may do what, virtual time, API errors."""
