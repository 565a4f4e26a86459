"""Paper sheets are typed in twice, by two people: who may type which, when they count, and what is settled."""

from collections.abc import Mapping, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry, is_listed
from bot.rules.judging.score_sheet import is_whole
from storage.records.judging import PaperEntry
from storage.records.people import Judge
from storage.records.plan_measures import Criterion, Rubric

MOST_TO_SETTLE = 5
"""What one form holds; more differences than this mean that one of the entries is of another sheet."""


def is_missing(entry: Entry) -> bool:
    """Whether a sheet can be typed in: nothing was marked in it here, and it is not closed."""
    return entry.sheet.state == "open" and entry.changeable


def may_see_marks(judge: Judge, who: int, mine: Sequence[Entry], squad_id: int) -> bool:
    """Whether somebody may see a judge's sheet for a squad: that judge, or who owes no sheet for it (own: `mine`)."""
    return judge.platform_id == who or not any(entry.owed for entry in mine if entry.squad.id == squad_id)


def check_may_type(entry: Entry, judge: Judge, may_see_marks: bool, how_far: str) -> None:
    """A sheet is typed in by whoever may see its marks, while nothing is marked in it; `how_far` it is, in words.

    Raises:
        Refusal: `paper_first`, `paper_done`, `paper_set_aside`, `paper_begun`, `paper_shut`.
    """
    squad = entry.squad.name
    if not may_see_marks:
        raise Refusal(Reason.PAPER_FIRST, squad=squad)
    if entry.done:
        raise Refusal(Reason.PAPER_DONE, judge=judge.name, squad=squad)
    if entry.changeable and not is_listed(entry.sheet):
        raise Refusal(Reason.PAPER_SET_ASIDE, judge=judge.name, squad=squad)
    if entry.sheet.state == "started":
        raise Refusal(Reason.PAPER_BEGUN, judge=judge.name, squad=squad, state=how_far)
    if not entry.changeable:
        raise Refusal(Reason.PAPER_SHUT)


def next_entry(rubric: Rubric, kept: Sequence[PaperEntry], who: int) -> int:
    """Which entry is typed now: the first, or the second by somebody else once the first is whole.

    Raises:
        Refusal: `paper_two_people`.
    """
    number = 2 if kept and is_whole(rubric, kept[0].marks) else 1
    if number == 2 and kept[0].entered_by == who:
        raise Refusal(Reason.PAPER_TWO_PEOPLE)
    return number


def gone_on_from(rubric: Rubric, number: int, kept: Mapping[int, PaperEntry], who: int) -> PaperEntry | None:
    """The entry to which what somebody has typed is added; None where it begins one, of those kept by number.

    Half an entry of somebody else is thrown away, so that nobody types in parts of both.

    Raises:
        Refusal: `paper_old`, `paper_two_people`.
    """
    if number == 2 and (1 not in kept or not is_whole(rubric, kept[1].marks)):
        raise Refusal(Reason.PAPER_OLD)
    if number == 2 and kept[1].entered_by == who:
        raise Refusal(Reason.PAPER_TWO_PEOPLE)
    old = kept.get(number)
    if old is None or old.entered_by == who:
        return old
    if is_whole(rubric, old.marks):
        raise Refusal(Reason.PAPER_OLD)
    return None


def both(rubric: Rubric, kept: Sequence[PaperEntry]) -> tuple[PaperEntry, PaperEntry]:
    """The two whole entries of a sheet. Raises Refusal `paper_old`."""
    if len(kept) != 2 or not all(is_whole(rubric, one.marks) for one in kept):
        raise Refusal(Reason.PAPER_OLD)
    return kept[0], kept[1]


def differences(rubric: Rubric, first: PaperEntry, second: PaperEntry) -> list[tuple[Criterion, int, int]]:
    """The lines in which two whole entries differ, with both levels."""
    return [
        (criterion, first.marks[criterion.key], second.marks[criterion.key])
        for criterion in rubric.criteria
        if first.marks[criterion.key] != second.marks[criterion.key]
    ]


def to_settle(found: Sequence[tuple[Criterion, int, int]]) -> list[Criterion]:
    """The lines that are settled one by one. Raises Refusal `paper_old` where there are none or too many."""
    if not found or len(found) > MOST_TO_SETTLE:
        raise Refusal(Reason.PAPER_OLD)
    return [criterion for criterion, _, _ in found]


def stands_in_form(kept: Sequence[PaperEntry], number: int, who: int) -> Mapping[str, int]:
    """The marks with which the form of an entry opens.

    Each entry is one person's: what somebody else has typed is shown to nobody before both are there.
    """
    return next((one.marks for one in kept if (one.number, one.entered_by) == (number, who)), {})


def what_counts(
    first: PaperEntry, second: PaperEntry, looked_at: Mapping[str, int]
) -> tuple[dict[str, int], dict[str, str]]:
    """The marks and comments that are saved; comments are typed with the first entry only.

    What both have typed alike stays, whatever was `looked_at` once more: one person alone changes nothing of it.
    """
    return {**second.marks, **looked_at}, dict(first.comments)


def is_told(judge: Judge, who: int) -> bool:
    """Whether a judge is told that a sheet was typed in: by somebody else (`who`), as the office is each time."""
    return judge.platform_id != who
