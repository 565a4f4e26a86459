"""Tenbell: the assistant that runs a class's robotics try-out."""
