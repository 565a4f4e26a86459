"""Public holidays of countries and regions, and of those that are not known."""

import pytest

from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from tests.rules.plan_samples import calendar


@pytest.mark.parametrize(
    ("holidays", "reason"),
    [({"country": "ZZ"}, "holidays_country"), ({"country": "GB", "region": "XX"}, "holidays_region")],
)
def test_unknown_countries_and_regions_are_refused_with_those_that_are_known(
    holidays: dict[str, str], reason: str
) -> None:
    with pytest.raises(Refusal) as refused:
        SchoolDays(calendar(holidays=holidays))
    assert refused.value.reason == reason
    known = refused.value.fields["known"]
    assert isinstance(known, tuple)
    assert ("GB" if reason == "holidays_country" else "ENG") in known
