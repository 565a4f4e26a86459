"""Public holidays of a country or a region of it, where the plan names one: on which dates, and their names."""

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import cast

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Holidays


def public_holidays(of: Holidays) -> Mapping[date, str]:
    """Public holidays by date, with their names; years are worked out as they are asked for.

    Raises Refusal `holidays_country` (country, known) or `holidays_region` (country, region, known): none are known.
    """
    return _public_holidays(of.country, of.region)


@cache
def _public_holidays(country: str, region: str | None) -> Mapping[date, str]:
    import holidays

    known = holidays.list_supported_countries()
    if country not in known:
        raise Refusal(Reason.HOLIDAYS_COUNTRY, country=country, known=tuple(sorted(known)))
    if region is not None and region not in known[country]:
        raise Refusal(Reason.HOLIDAYS_REGION, country=country, region=region, known=tuple(known[country]))
    return cast("Mapping[date, str]", holidays.country_holidays(country, subdiv=region, language="en_US"))
