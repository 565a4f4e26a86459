"""Codes that are read out: the join code of a squad, and the code with which a student links an account."""

LETTERS = "BCDHJLMNPRSTVWXZ"
"""No vowels, so that no code is a word; none of F, G, K, Q, Y, which look or sound like others or make rude ones."""
CODE_BITS = 20
"""Each of the 16 letters carries 4 bits."""


def join_code(bits: int) -> str:
    """The join code made of the lowest 20 bits of a random number: every code is equally likely, a million exist."""
    return "".join(LETTERS[bits >> shift & 15] for shift in range(CODE_BITS - 4, -1, -4))


def link_code(bits: int) -> str:
    """The code with which a student links an account, of the lowest 32 bits: eight letters, four billion codes."""
    return "".join(LETTERS[bits >> shift & 15] for shift in range(28, -1, -4))


def tidy_code(typed: str) -> str:
    """A join code as it is kept: capitals, without the spaces and hyphens that people put in."""
    return "".join(typed.split()).replace("-", "").upper()
