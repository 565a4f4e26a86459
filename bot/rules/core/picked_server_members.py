"""People who are picked from the list of the class server: under which of their names, and that they are people."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Person

LONGEST_NAME = 100
"""Characters that are taken of the name of somebody on the class server."""


def name_taken(nickname: str | None, display_name: str | None, account_name: str) -> str:
    """Under which name somebody is kept: the nickname on the class server, else that of the account for show."""
    return nickname or display_name or account_name


def check_people(picked: Sequence[Person]) -> None:
    """Refuse programs, which the list offers as well.

    Raises:
        Refusal: `programs_cannot` (name), or `out_of_date` when nobody came along.
    """
    for person in picked:
        if person.program:
            raise Refusal(Reason.PROGRAMS_CANNOT, name=person.name)
    if not picked:
        raise Refusal(Reason.OUT_OF_DATE)
