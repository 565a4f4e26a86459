"""The plan as everybody may have it: a surprise that has not been started is left out of the file."""

import tomllib
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from hashlib import sha256
from typing import Any

import tomli_w

from bot.rules.plan.read_plan import fingerprint, write_plan
from storage.records.plan import Plan


@dataclass(frozen=True, slots=True)
class PublicPlan:
    """A file for everybody, and what `sha256sum` shows for it."""

    text: str
    sha256: str
    whole_sha256: str
    """The fingerprint of the whole plan; the same where nothing is left out."""

    @property
    def whole(self) -> bool:
        """Whether nothing is left out."""
        return self.sha256 == self.whole_sha256


def without_sealed(plan: Plan, started: Collection[str], name: str, in_tie_breaks: str) -> PublicPlan:
    """The written plan; of a surprise that is not among `started` its weight alone, neither name, key nor task.

    `name` stands there instead of its own, and `in_tie_breaks` in the order of the tie-breaks.
    """
    whole = fingerprint(plan)
    sealed = {event.key for event in plan.events if event.surprise and event.key not in started}
    if not sealed:
        return PublicPlan(write_plan(plan), whole, whole)
    data: dict[str, Any] = tomllib.loads(write_plan(plan), parse_float=Decimal)
    data["tie_breaks"] = [in_tie_breaks if one.split(".")[0] in sealed else one for one in data["tie_breaks"]]
    data["events"] = [
        {"name": name, "weight": event["weight"], "surprise": True} if event["key"] in sealed else event
        for event in data["events"]
    ]
    text = tomli_w.dumps(data, multiline_strings=True)
    return PublicPlan(text, sha256(text.encode()).hexdigest(), whole)
