"""The draft of a squad's feedback: what went well, or what is strongest so far, and a next step as a thing to do.

Draft and edited text are plain words, as a coach types them; `shown` is the only way to put them into a message.
"""

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.rounding import rounded
from bot.rules.results.feedback import LONGEST
from bot.rules.results.feedback_draft import Draft, Point, most_of, standing_attempt
from bot.rules.scoring.standings_records import Row
from bot.words.core.number_text import several
from bot.words.core.plain_text import cut, escape, unescaped
from bot.words.scorekeeping.attempt_value_text import lower_note, value_of
from bot.words.scoring.result_view import ResultView
from storage.records.plan_measures import Checklist, Count, Criterion, Share, Time
from storage.records.scores import Attempt

WELL, STRONGEST, STEP, JUDGES = "What went well", "Strongest so far:", "A next step", "From the judges"
"""Lines that are headings, and one that begins with its heading."""
FOR = "Feedback for "
TRY = "Change one thing, try it three times, and write down what happens."
STEPS: dict[str, str] = {
    "count": TRY,
    "number": TRY,
    "time": "Practise it three times, and take the time of each.",
    "checklist": "Go through the list together before you begin, and tick each line.",
    "share": "Before you begin, plan a part for each of you.",
}
"""A thing to do next time, by what is measured."""
THANKS, IN_PERSON = "Thank you for taking part.", "Your coach will tell you more in person."


def shown(text: str) -> str:
    """A draft, or what a coach has made of it, in a message: headings in bold, all else as it was typed."""
    first, *lines = text.split("\n")
    begins = f"**{escape(first)}**" if first.startswith(FOR) else _line(first)
    return "\n".join((begins, *map(_line, lines)))


def _line(text: str) -> str:
    if text in (WELL, STEP, JUDGES):
        return f"**{text}**"
    if text.startswith(STRONGEST):
        return f"**{STRONGEST}**{escape(text.removeprefix(STRONGEST))}"
    return escape(text)


def drafted(result: ResultView, row: Row, found: Draft) -> str:
    """The draft in plain words; a text of a lower level never stands in it."""
    blocks = [FOR + result.squads[row.squad_id].name, THANKS]
    if found.strengths:
        lines = [f"• {_strength(result, row, point)}" for point in found.strengths]
        blocks.append("\n".join((WELL, *lines)))
    if found.strongest is not None:
        blocks.append(f"{STRONGEST} {_name(result, found.strongest)}")
    if found.step is not None:
        blocks.append(f"{STEP}\n• {_step(result, row, found.step)}")
    if len(blocks) == 2:
        blocks.append(IN_PERSON)
    return cut("\n\n".join(blocks), LONGEST)


def _criterion(result: ResultView, point: Point) -> Criterion:
    rubric = result.measure(point.event, point.measure)
    assert rubric.kind == "rubric"
    return next(one for one in rubric.criteria if one.key == point.criterion)


def _name(result: ResultView, point: Point) -> str:
    if point.criterion is not None:
        return _criterion(result, point).name
    event, measure = result.event(point.event), result.measure(point.event, point.measure)
    return event.name if measure.name == event.name else f"{event.name}, {measure.name}"


def _strength(result: ResultView, row: Row, point: Point) -> str:
    if point.criterion is None:
        return f"{_name(result, point)}: {_reached(result, row, point, praised=True)}"
    criterion = _criterion(result, point)
    assert point.level is not None and point.mean is not None
    said = criterion.praise or criterion.levels[point.level - 1]
    return f"{criterion.name} ({rounded(point.mean, 1)} of {len(criterion.levels)}): {said}"


def _step(result: ResultView, row: Row, point: Point) -> str:
    name = _name(result, point)
    if point.criterion is None:
        measure = result.measure(point.event, point.measure)
        reached = "" if isinstance(measure, Share) else f" {_reached(result, row, point)}{lower_note(measure)}."
        return f"{name}:{reached} {STEPS[measure.kind]}"
    wanted = _criterion(result, point).next
    if wanted is None:
        return f"{name}: read its levels in the brief together, and choose one thing to try next time."
    return f"{name}: {wanted}"


def _reached(result: ResultView, row: Row, point: Point, praised: bool = False) -> str:
    """What a squad reached in a measure, as it was counted: `6 of 10 socks`, never bare points.

    Where it is `praised`, things that cost points are left out; what is better the less there is of it is none then.
    """
    measure = result.measure(point.event, point.measure)
    scores = next(event.measures for event in row.events if event.key == point.event)
    score = next(score for score in scores if score.key == point.measure)
    if measure.kind == "share" and score.value is not None:
        there = next(one for one in result.book.attempts if one.id == score.attempts[0].attempt_id)
        return "everyone took part" if score.value == 1 else f"{there.contributing} of {there.members} of you took part"
    if praised and lower_is_better(measure) and not isinstance(measure, Time):
        return "none"
    if isinstance(measure, Count | Checklist):
        attempt = standing_attempt(measure, score, result.book.attempts)
        if attempt is not None:
            return _things(measure, attempt, praised)
        return f"{unescaped(value_of(measure, score.value))} in all attempts together"
    return unescaped(value_of(measure, score.value))


def _things(measure: Count | Checklist, attempt: Attempt, praised: bool) -> str:
    if isinstance(measure, Checklist):
        wanted = [line for line in measure.lines if line.points > 0]
        return f"{sum(bool(attempt.items.get(line.key)) for line in wanted)} of {len(wanted)} lines that give points"
    items = [item for item in measure.items if item.points > 0 or not praised]
    counted = [(attempt.items.get(item.key, 0), item, most_of(measure, item)) for item in items]
    return ", ".join(
        several(number, item.name) if most is None else f"{number} of {several(most, item.name)}"
        for number, item, most in counted
    )
