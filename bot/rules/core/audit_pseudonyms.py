"""Pseudonyms: how people stand in the audit log, so that nobody can find them there once a key is deleted."""

import hashlib
import hmac

NOBODY = "person"
"""Who cannot be told apart any more: the key has been deleted."""


def pseudonym(audit_key: str | None, account: int) -> str:
    """What an account is called in a try-out's audit log: `person:`, then 128 bits in hexadecimal.

    HMAC-SHA-256 (RFC 2104) of the account's decimal digits under the try-out's key (hexadecimal), its first half. The
    same account has another pseudonym in each try-out. Account numbers are few enough to be tried one after the other,
    so that a plain digest would hide nothing.
    """
    if audit_key is None:
        return NOBODY
    digest = hmac.new(bytes.fromhex(audit_key), str(account).encode(), hashlib.sha256).hexdigest()
    return f"person:{digest[:32]}"


def is_by(actor: str, audit_key: str | None, account: int) -> bool:
    """Whether an entry's actor is this account; entries from before there were pseudonyms name it by its number."""
    return actor == f"user:{account}" or (audit_key is not None and actor == pseudonym(audit_key, account))
