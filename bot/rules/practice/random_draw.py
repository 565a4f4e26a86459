"""A lot that anyone can recheck, in the way of RFC 3797 (D. Eastlake, 2004), with SHA-256 in place of MD5.

First the pool and the source of the key are published, then the key becomes known, then everyone can draw alike. RFC
3797 hashes with MD5; the way is the same for any digest, so that the published example checks ours as well.
"""

from collections.abc import Callable, Sequence
from hashlib import sha256
from typing import TypeVar

Entry = TypeVar("Entry")
MOST = 65_536
"""Draws that a number of two bytes can count."""


def sha256_digest(data: bytes) -> bytes:
    """The digest that we draw with."""
    return sha256(data).digest()


def key_text(sources: Sequence[Sequence[str]]) -> str:
    """The key of several sources of random: each as its values with a point behind each, closed by a slash.

    Numbers of one source are sorted first, as the order in which they were read must not matter (RFC 3797, section 4).
    """
    return "".join("".join(f"{value}." for value in _sorted(values)) + "/" for values in sources)


def draw(
    pool: Sequence[Entry], key: str, count: int | None = None, digest: Callable[[bytes], bytes] = sha256_digest
) -> tuple[Entry, ...]:
    """The first `count` entries drawn from a pool, in the order in which they are drawn; all when None.

    Draw number i (from 0) takes, of those that are left, the one at place digest(i, key, i) modulo their number; i is
    written in two bytes, most significant first, and the key in UTF-8 (RFC 3797, section 3.3).

    Raises:
        ValueError: more are to be drawn than there are, or than two bytes can count.
    """
    left = list(pool)
    wanted = len(left) if count is None else count
    if not 0 <= wanted <= min(len(left), MOST):
        raise ValueError(f"{wanted} of {len(left)} cannot be drawn")
    return tuple(left.pop(number_of(place, key, digest) % len(left)) for place in range(wanted))


def number_of(place: int, key: str, digest: Callable[[bytes], bytes] = sha256_digest) -> int:
    """The large number behind draw number `place`, from 0."""
    counter = place.to_bytes(2)
    return int.from_bytes(digest(counter + key.encode() + counter))


def _sorted(values: Sequence[str]) -> list[str]:
    return sorted(values, key=int) if all(value.isdecimal() for value in values) else list(values)
