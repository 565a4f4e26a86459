"""Which chat account is which student: who may be linked, let go of, and given a code."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Student


def check_has_account(one: Student) -> None:
    """Only an account that there is can be let go. Raises Refusal `no_account` (name)."""
    if one.platform_id is None:
        raise Refusal(Reason.NO_ACCOUNT, name=one.name)


def check_has_none(one: Student) -> None:
    """A code for an account is for a student who has none. Raises Refusal `has_account` (name)."""
    if one.platform_id is not None:
        raise Refusal(Reason.HAS_ACCOUNT, name=one.name)


def check_may_link(one: Student, other: Student | None) -> None:
    """A student has one account, and an account is one student; `other` is whose account it is already.

    Raises:
        Refusal: `has_account` (name), `account_in_use` (name).
    """
    check_has_none(one)
    if other is not None:
        raise Refusal(Reason.ACCOUNT_IN_USE, name=other.name)


def check_linked_before(me: Student | None) -> Student:
    """Whose code fits nobody is told of the squad again who has one: the first answer may not have arrived.

    Raises:
        Refusal: `no_such_link`.
    """
    if me is None or me.squad_id is None:
        raise Refusal(Reason.NO_SUCH_LINK)
    return me
