"""Judging is closed: while what, by whom, what should be known first, and what is let go."""

from collections.abc import Iterable, Iterator

from bot.rules.calendar import step_facts
from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from storage.records.tryout import State


def lacks(facts: Facts) -> Iterator[Lack]:
    """What should be known before judging is closed: judges, and sheets that are not handed in."""
    yield from step_facts.judges(facts)
    if facts.sheets_done < facts.sheets:
        yield Lack("sheets", blocks=False, fields={"open": facts.sheets - facts.sheets_done, "all": facts.sheets})


def check_own_sheets_in(owed: int, said: str) -> None:
    """A coach who also judges hands in the own sheets before closing: whoever closes sees all marks a moment later.

    `owed` are those that are not in, `said` the same in words.

    Raises:
        Refusal: `own_sheets_before_close` (sheets).
    """
    if owed:
        raise Refusal(Reason.OWN_SHEETS_BEFORE_CLOSE, sheets=said)


def check_may_close(state: State) -> None:
    """Judging is closed once the window is over.

    Raises:
        Refusal: `judging_not_begun`, `judging_over`.
    """
    if state != "judging":
        raise Refusal(Reason.JUDGING_NOT_BEGUN if state in ("drafting", "signup", "window") else Reason.JUDGING_OVER)


def let_go(entries: Iterable[Entry]) -> list[int]:
    """The sheets (ids) that are let go at the close: whatever is not handed in counts for nothing."""
    return [entry.sheet.id for entry in entries if entry.owed]
