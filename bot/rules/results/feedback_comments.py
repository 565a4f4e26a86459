"""What judges wrote about a squad, without who wrote it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.judging.score_sheet import WHOLE
from bot.rules.results.feedback import LONGEST
from storage.records.plan_measures import Rubric
from storage.records.scores import ScoreBook


@dataclass(frozen=True, slots=True)
class JudgeComment:
    """One comment. `place` names it in keys: the sheet's id and what it is about."""

    place: str
    event: str
    measure: str
    criterion: str | None
    """None where it is about the whole sheet."""
    text: str


def judge_comments(book: ScoreBook) -> Mapping[int, tuple[JudgeComment, ...]]:
    """All comments on sheets that were handed in, by squad id; those of judges who do not count among them.

    They stand in the plan's order, and about one thing by their text, so that their order tells nothing about judges.
    """
    order: dict[tuple[str, str, str | None], int] = {}
    for event in book.plan.events:
        for measure in event.measures:
            if isinstance(measure, Rubric):
                for about in (None, *(criterion.key for criterion in measure.criteria)):
                    order[event.key, measure.key, about] = len(order)
    found: dict[int, list[tuple[int, str, JudgeComment]]] = {}
    for sheet in book.sheets:
        for about, text in sheet.comments.items():
            criterion = None if about == WHOLE else about
            flat = " ".join(text.split())
            if sheet.state == "submitted" and flat and (sheet.event, sheet.measure, criterion) in order:
                comment = JudgeComment(f"{sheet.id}.{about}", sheet.event, sheet.measure, criterion, flat)
                place = order[sheet.event, sheet.measure, criterion]
                found.setdefault(sheet.squad_id, []).append((place, flat, comment))
    return {
        squad_id: tuple(comment for _, _, comment in sorted(comments, key=lambda one: one[:2]))
        for squad_id, comments in found.items()
    }


def comments_of(book: ScoreBook, squad_id: int) -> Sequence[JudgeComment]:
    """Those about one squad."""
    return judge_comments(book).get(squad_id, ())


def check_fits(text: str) -> None:
    """With the ticked comments it is not too long. Raises Refusal: `feedback_full` (length, most)."""
    if len(text) > LONGEST:
        raise Refusal(ResultReason.FEEDBACK_FULL, length=len(text), most=LONGEST)
