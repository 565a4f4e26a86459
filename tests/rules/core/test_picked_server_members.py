"""People who are picked from the list of the class server."""

import pytest

from bot.rules.core.picked_server_members import check_people, name_taken
from bot.rules.core.refusal import Refusal
from storage.records.request import Person


def test_somebody_bears_the_name_that_the_class_server_shows() -> None:
    assert name_taken("Ben R", "Benjamin", "ben") == "Ben R"
    assert name_taken(None, "Ana", "ana_77") == "Ana"
    assert name_taken(None, None, "cy") == "cy"


@pytest.mark.parametrize(
    ("picked", "reason"),
    [((), "out_of_date"), ((Person(id=1, name="Ana"), Person(id=3, name="beep", program=True)), "programs_cannot")],
)
def test_nobody_and_programs_are_refused(picked: tuple[Person, ...], reason: str) -> None:
    with pytest.raises(Refusal) as refused:
        check_people(picked)
    assert refused.value.reason == reason
