"""Whole seasons of the real bot process against the loopback class server."""
