"""Try-outs that are put away and still hold names: in which order they are listed, and which of them can be erased."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import Tryout


def in_order(found: Sequence[tuple[Tryout, datetime]]) -> list[tuple[Tryout, datetime]]:
    """They are listed in the order in which they began; each comes with the day on which its names are erased."""
    return sorted(found, key=lambda one: one[0].id)


def to_erase(found: Sequence[tuple[Tryout, datetime]], tryout_id: int) -> Tryout:
    """The one that was picked, while it still holds names. Raises Refusal `earlier_gone`."""
    for one, _ in found:
        if one.id == tryout_id:
            return one
    raise Refusal(Reason.EARLIER_GONE)
