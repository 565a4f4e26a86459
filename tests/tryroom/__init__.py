"""Checks of the try-it room: what is kept, who may ask, and the page in a real browser."""
