"""Checks of the loopback class server and its people."""
