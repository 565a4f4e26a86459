"""Feedback for a squad: two strengths, one next step, its own marks; drafted here, finished by the coach."""

from collections.abc import Mapping, Sequence

from bot.rules.core.reasons import Reason
from bot.rules.core.rounding import rounded
from bot.rules.results.feedback import Draft, Point
from bot.rules.scoring.results import Row
from bot.words.core.action_keys import ActionKey
from bot.words.core.keys import key
from bot.words.core.number_text import exact
from bot.words.core.pages import page_line, turning, within
from bot.words.core.plain_text import count, escape
from bot.words.results.own_result import value_of
from bot.words.scorekeeping.attempts import squad_label
from bot.words.scoring.outcome import Outcome
from storage.records.message import Button, Choice, Form, Message, Select, TextField
from storage.records.offers_and_feedback import Feedback
from storage.records.people import Squad
from storage.records.plan import Criterion

SIDE = 25
LONGEST = 1800

REFUSALS = {
    Reason.FEEDBACK_SENT: "**{squad}** has this feedback already. Edit it first if you want to send it once more.",
    Reason.FEEDBACK_SHORT: "Please write a little more, so that the squad has something to hold on to.",
}


def drafted(outcome: Outcome, row: Row, found: Draft) -> str:
    """The draft in words: what the descriptors say is seen, and the next level of the weakest point."""
    blocks = [f"**Feedback for {outcome.name(row.squad_id)}**"]
    if found.strengths:
        lines = [f"• {_point(outcome, row, point)}" for point in found.strengths]
        blocks.append("**What went well**\n" + "\n".join(lines))
    if found.step is not None:
        blocks.append(f"**A next step**\n• {_step(outcome, row, found.step)}")
    if len(blocks) == 1:
        blocks.append("Thank you for taking part. Your coach will tell you more in person.")
    return "\n\n".join(blocks)[:LONGEST]


def _criterion(outcome: Outcome, point: Point) -> Criterion:
    rubric = outcome.measure(point.event, point.measure)
    assert rubric.kind == "rubric"
    return next(one for one in rubric.criteria if one.key == point.criterion)


def _marks(outcome: Outcome, point: Point) -> str:
    assert point.mean is not None
    levels = len(_criterion(outcome, point).levels)
    spread = (
        f"all judges gave {point.lowest}"
        if point.lowest == point.highest
        else f"judges gave {point.lowest} to {point.highest}"
    )
    return f"{rounded(point.mean, 1)} of {levels}; {spread}"


def _point(outcome: Outcome, row: Row, point: Point) -> str:
    if point.criterion is None:
        return _measure(outcome, row, point)
    criterion = _criterion(outcome, point)
    assert point.level is not None
    seen = escape(criterion.levels[point.level - 1])
    return f"{escape(criterion.name)} ({_marks(outcome, point)}): {seen}"


def _step(outcome: Outcome, row: Row, point: Point) -> str:
    if point.criterion is None:
        return f"{_measure(outcome, row, point)}. Try out what would bring more here."
    criterion = _criterion(outcome, point)
    assert point.level is not None
    wanted = escape(criterion.levels[min(point.level, len(criterion.levels) - 1)])
    return f"{escape(criterion.name)} ({_marks(outcome, point)}). Aim for this: {wanted}"


def _measure(outcome: Outcome, row: Row, point: Point) -> str:
    measure = outcome.measure(point.event, point.measure)
    score = next(
        score
        for event in row.events
        if event.key == point.event
        for score in event.measures
        if score.key == point.measure
    )
    if measure.kind == "share" and score.value is not None:
        reached = f"{exact(score.value * 100)} % of you contributed"
    else:
        reached = value_of(measure, score.value)
    return f"{escape(outcome.event(point.event).name)}, {escape(measure.name)}: {reached}"


def panel(outcome: Outcome, kept: Mapping[int, Feedback], page: int) -> Message:
    """Every squad, and whether its feedback is drafted, edited or sent."""
    rows = outcome.standings.rows
    sent = sum(one.sent_at is not None for one in kept.values())
    of = max(1, -(-len(rows) // SIDE))
    page = within(page, of)
    choices = tuple(
        Choice(
            value=str(row.squad_id),
            label=squad_label(outcome.squads[row.squad_id]),
            note=_state(kept.get(row.squad_id)),
        )
        for row in sorted(rows, key=lambda row: row.number)[page * SIDE : (page + 1) * SIDE]
    )
    text = (
        f"**Feedback for the squads**: {sent} of {len(rows)} sent.\n"
        "I draft each from the squad's own marks: two strengths and one next step, with no judge's name and no other "
        f"squad. Read it, change what you like, then send it.{page_line(page, of)}"
    )
    parts: list[Select | tuple[Button, ...]] = []
    if choices:
        parts.append(Select(key=key(ActionKey.FEEDBACK_SQUAD), prompt="Read the feedback of …", choices=choices))
    turn = turning(ActionKey.FEEDBACK_PAGE, page, of)
    if turn:
        parts.append(turn)
    parts.append((Button(key=key(ActionKey.FEEDBACK_ALL), label="Send all that are left", disabled=sent == len(rows)),))
    return Message(text=text, rows=tuple(parts))


def _state(one: Feedback | None) -> str:
    if one is None:
        return "draft"
    return "sent" if one.sent_at else "edited, not sent"


def read(squad: Squad, text: str, one: Feedback | None) -> Message:
    """One squad's feedback as it would be sent."""
    sent = one is not None and one.sent_at is not None
    head = "Sent:" if sent else "This would be sent to the squad's room:"
    return Message(
        text=f"-# {head}\n{text}",
        rows=(
            (
                Button(key=key(ActionKey.FEEDBACK_SEND, squad.id), label="Send", style="main", disabled=sent),
                Button(key=key(ActionKey.FEEDBACK_EDIT, squad.id), label="Edit"),
                Button(key=key(ActionKey.FEEDBACK_PANEL), label="All squads"),
            ),
        ),
    )


def form(squad: Squad, text: str) -> Form:
    """The coach's own words."""
    title = f"Feedback for {squad.name}"
    field = TextField(
        key="text",
        label="Feedback",
        hint="About their work only: no judge's name, no other squad.",
        value=text[:LONGEST],
        long=True,
        least=1,
        most=LONGEST,
    )
    return Form(
        key=key(ActionKey.FEEDBACK_EDITED, squad.id),
        title=title if len(title) <= 45 else f"{title[:44]}…",
        fields=(field,),
    )


def letter(text: str) -> Message:
    """What the squad reads in its room."""
    return Message(text=text)


def sure_to_send_all(squads: Sequence[Squad]) -> Message:
    """Ask once before all are sent."""
    return Message(
        text=f"Send the feedback to {count(len(squads), 'squad')}, each in its own room? "
        "What you have not edited goes out as I drafted it.",
        rows=(
            (
                Button(key=key(ActionKey.FEEDBACK_SENT_ALL), label="Yes, send all", style="main"),
                Button(key=key(ActionKey.FEEDBACK_PANEL), label="Not yet"),
            ),
        ),
    )


def sent(number: int) -> Message:
    """It is on its way."""
    return Message(
        text=f"Feedback sent to {count(number, 'squad')}.",
        rows=((Button(key=key(ActionKey.FEEDBACK_PANEL), label="All squads"),),),
    )
