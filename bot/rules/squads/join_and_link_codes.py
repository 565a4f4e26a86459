"""Codes that are read out: the join code of a squad, and the code with which a student links an account."""

LETTERS = "BCDHJLMNPRSTVWXZ"
"""No vowels, so that no code is a word; none of F, G, K, Q, Y, which look or sound like others or make rude ones."""
LETTER_BITS = 4
"""Each of the 16 letters carries so many bits."""
JOIN_CODE_LETTERS = 5
"""Of a join code: a million exist."""
LINK_CODE_LETTERS = 8
"""Of the code with which a student links an account: four billion exist."""
JOIN_CODE_TYPED, LINK_CODE_TYPED = 12, 16
"""Characters that can be typed for each, with the spaces and hyphens that people put in."""
TRIES = 1000
"""So many join codes are tried until one is found that no other squad has."""


def join_code(bits: int) -> str:
    """The join code made of the lowest bits of a random number: every code is equally likely."""
    return _code(bits, JOIN_CODE_LETTERS)


def link_code(bits: int) -> str:
    """The code with which a student links an account, made of the lowest bits of a random number."""
    return _code(bits, LINK_CODE_LETTERS)


def tidy_code(typed: str) -> str:
    """A join code as it is kept: capitals, without the spaces and hyphens that people put in."""
    return "".join(typed.split()).replace("-", "").upper()


def _code(bits: int, letters: int) -> str:
    return "".join(LETTERS[bits >> LETTER_BITS * place & 15] for place in reversed(range(letters)))
