"""The people who were picked from the list of the class server."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.request import Person, Request


def picked(request: Request) -> tuple[Person, ...]:
    """The people who were picked from the list of the class server.

    Raises:
        Refusal: `programs_cannot` (name), or `out_of_date` when nobody came along.
    """
    for person in request.people:
        if person.program:
            raise Refusal(Reason.PROGRAMS_CANNOT, name=person.name)
    if not request.people:
        raise Refusal(Reason.OUT_OF_DATE)
    return request.people
