"""Checks of rules: how long what is kept about people stays."""
