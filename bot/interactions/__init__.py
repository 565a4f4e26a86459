"""Inbound: what people press, fill and type becomes requests, and answers go back."""
