"""Frozen, validated records: the shared vocabulary of the whole project."""
