"""Pseudonyms in the audit log: one a person and try-out, and nobody's any more without the key."""

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.audit_pseudonyms import NOBODY, is_by, pseudonym

keys = st.binary(min_size=32, max_size=32).map(bytes.hex)
accounts = st.integers(1, 2**63 - 1)


def test_it_is_the_first_half_of_hmac_sha_256() -> None:
    # OpenSSL 3: printf 123 | openssl dgst -sha256 -mac HMAC -macopt hexkey:0b…0b
    assert pseudonym("0b" * 32, 123) == "person:dd71c0b11af98b2343e42b5b04056f3e"


@given(keys, keys, accounts, accounts)
def test_one_person_has_one_name_in_a_tryout_and_another_in_the_next(
    key: str, other: str, account: int, stranger: int
) -> None:
    assert pseudonym(key, account) == pseudonym(key, account)
    assert (pseudonym(key, account) == pseudonym(key, stranger)) == (account == stranger)
    assert (pseudonym(key, account) == pseudonym(other, account)) == (key == other)
    assert str(account) not in pseudonym(key, account) or account < 10**6


@given(keys, accounts)
def test_who_an_entry_is_by_is_known_by_pseudonym_or_by_the_number_in_old_entries(key: str, account: int) -> None:
    assert is_by(pseudonym(key, account), key, account)
    assert is_by(f"user:{account}", key, account)
    assert not is_by(pseudonym(key, account), key, account + 1)


@given(accounts)
def test_without_the_key_everybody_is_the_same_nobody(account: int) -> None:
    assert pseudonym(None, account) == NOBODY
    assert not is_by(NOBODY, None, account)
