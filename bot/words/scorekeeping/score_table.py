"""The table: which measure, which squad, what it has done so far, and who did not take part."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.attempts import is_done, which_attempt
from bot.rules.scorekeeping.counted_shares import is_counted
from bot.rules.scorekeeping.score_table import is_corrected, may_enter
from bot.rules.scorekeeping.undo_attempt import last_of
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import TABLE, all_squads_button, here_button, stop_button
from bot.words.core.choices import LABEL, choice, list_page, part_label
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import count
from bot.words.core.plain_text import as_sentence, cut, escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.who_reads import who_reads
from bot.words.scorekeeping.attempt_value_text import value_text
from bot.words.scorekeeping.attempts import WHO_IS_NEXT, attempt_name, next_button, number_code, squad_label, where
from bot.words.scorekeeping.late_changes import correct_button
from storage.records.message import Button, Choice, Message, Row
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.plan_measures import Count, Measure, Time
from storage.records.scores import Absence, Attempt

NEXT = WHO_IS_NEXT.model_copy(update={"style": "main"})
PAPER = Button(key=key(DayKey.RUN_SHEETS), label="Paper sheets")
REFUSALS = {
    TableReason.TABLE_NOT_YET: "Attempts are recorded once the brief is out. Until then there is nothing to do at the "
    "table.",
    TableReason.TABLE_SURPRISE: "Nothing can be measured yet. Open the table again when your coach has started the "
    "next event.",
    TableReason.TABLE_CLOSED: "The result is announced, so nothing at the table changes any more. "
    "If a protest is right, a coach can take the announcement back in the results.",
    TableReason.NO_MEASURE: "The plan has no such measure any more. Please open the table again.",
    TableReason.SQUAD_NOT_AT_TABLE: "That squad is not here any more. Open the table again to see which squads are.",
}


LEAD_ON = dict.fromkeys((TableReason.NO_MEASURE, TableReason.SQUAD_NOT_AT_TABLE), ((TABLE,),))


@dataclass(frozen=True)
class Line:
    """One squad in the list of a measure."""

    squad: Squad
    attempts: Sequence[Attempt]
    absence: Absence | None


def measure_value(event: Event, measure: Measure) -> str:
    """What a choice of a measure carries."""
    return f"{event.key}.{measure.key}"


def measure_choices(measures: Sequence[tuple[Event, Measure]], done: Sequence[str] = ()) -> list[Choice]:
    """The measures that are recorded at the table."""
    notes = done or [""] * len(measures)
    return [
        choice(measure_value(event, measure), _choice_label(event, measure), note)
        for (event, measure), note in zip(measures, notes, strict=True)
    ]


def _choice_label(event: Event, measure: Measure) -> str:
    return event.name if event.name == measure.name else part_label(event.name, measure.name)


def measure_label(event: Event, measure: Measure) -> str:
    """What a measure is called above a list: the event's name, and its own where that is another."""
    return event.name if event.name == measure.name else f"{event.name}: {measure.name}"


def measures(
    found: Sequence[tuple[Event, Measure]],
    done: Sequence[str],
    page: int,
    running: Sequence[Row] = (),
    day: bool = False,
) -> Message:
    """Pick what is measured; stopwatches that still run come first. With an event day, the board is a press away."""
    if not found:
        return Message(text="The plan has nothing that is recorded at the table: everything is marked by judges.")
    turn = partial(key, ActionKey.TABLE_MEASURES)
    pick = key(ActionKey.TABLE_MEASURE)
    listed = list_page(measure_choices(found, done), page, "What is measured?", pick, turn)
    below = (*listed.turns, *((NEXT,) if day else ()), PAPER)
    text = f"**The table.** What is measured? {who_reads('answer')}{listed.line}"
    return Message(text=text, rows=(*running, *listed.select, below))


def squads(
    event: Event, measure: Measure, lines: Sequence[Line], allowed: int, page: int, several: bool, day: bool = False
) -> Message:
    """Pick the squad that is at the table."""
    title = escape(measure_label(event, measure))
    if not lines:
        return Message(text=f"**{title}**\nNo squad takes part yet.")
    done = sum(is_done(len(line.attempts), allowed, line.absence is not None) for line in lines)
    choices = [choice(line.squad.id, squad_label(line.squad), _note(measure, line, allowed)) for line in lines]
    about, prompt = measure_value(event, measure), "Which squad is at the table?"
    pick = key(ActionKey.TABLE_SQUAD, about)
    listed = list_page(choices, page, prompt, pick, lambda turn: key(ActionKey.TABLE_SQUADS, turn, about))
    another = (Button(key=key(ActionKey.TABLE_MEASURES, 0), label="Another measure"),) if several else ()
    waiting = len(lines) - done
    counted = (
        (Button(key=key(ActionKey.TABLE_COUNTED, about), label=f"Take all {waiting} as handed in", style="main"),)
        if is_counted(event, measure) and waiting
        else ()
    )
    below = (*counted, *another, *((NEXT,) if day else ()), PAPER)
    text = f"**{title}**\n{done_line(lines, allowed)}. {prompt}{listed.line}"
    return Message(text=text, rows=(*listed.rows, below))


def done_line(lines: Sequence[Line], allowed: int) -> str:
    """How far a measure has come: squads that are done, and attempts where each has several."""
    done = sum(is_done(len(line.attempts), allowed, line.absence is not None) for line in lines)
    squads_done = f"{done} of {count(len(lines), 'squad')} done"
    if allowed < 2:
        return squads_done
    made = sum(len(line.attempts) for line in lines)
    return f"{squads_done}, {count(made, 'attempt')} in"


def _note(measure: Measure, line: Line, allowed: int) -> str:
    if line.absence is not None:
        return "excused" if line.absence.excused else "absent"
    values = "; ".join(value_text(measure, one).split(" = ")[-1] for one in line.attempts)
    state = f"{len(line.attempts)} of {allowed}"
    return cut(f"{state}: {values}" if values else state, LABEL)


@dataclass(frozen=True)
class Turn:
    """What may be done next at a squad's live message."""

    allowed: int = 0
    """Official attempts that the plan gives."""
    following: Squad | None = None
    """The next squad that has attempts left."""
    tied: bool = False
    """Whether a run-off may be entered."""
    closed: bool = False
    """Whether the live message is only to be read."""
    here: str = ""
    """Who is here, in words."""
    to_tick: bool = False
    """Whether somebody must tick who is here before it may start."""
    settled: bool = False
    """Whether judging is closed, so that what is on record is not changed by one person."""


def squad_page(event: Event, measure: Measure, line: Line, run_offs: Sequence[Attempt], turn: Turn) -> Message:
    """One squad at one measure: what stands, and what can be done."""
    listed = [
        f"- {attempt_name(measure, one.number, one.run_off).capitalize()}: {value_text(measure, one)}"
        for one in (*line.attempts, *run_offs)
    ]
    text = f"{where(line.squad, event, measure)}\n"
    if line.absence is not None:
        reason = f": {as_sentence(line.absence.reason)}" if line.absence.reason else "."
        kind = "Excused, so this event is left out of its mean" if line.absence.excused else "Absent, which counts 0"
        text += f"{kind}{reason}"
    else:
        text += "\n".join(listed) if listed else "No attempt yet."
    text += f"\n{turn.here}" if turn.here else ""
    about = measure_value(event, measure)
    enter = () if turn.closed else _enter(measure, line, run_offs, about, turn)
    go = _go(line.squad, about, turn, any(one.style == "main" for one in enter))
    return whole_message(text, (*((enter,) if enter else ()), go, *_stop(event, turn)))


def _enter(measure: Measure, line: Line, run_offs: Sequence[Attempt], about: str, turn: Turn) -> tuple[Button, ...]:
    """Tick who is here, count or time the next attempt, or type it: the first is filled. Or undo the last one."""
    squad, made, absent = line.squad, len(line.attempts), line.absence is not None
    ways: list[Button] = []
    if may_enter(made, turn.allowed, absent, turn.tied, turn.settled):
        number, run_off = which_attempt(made, len(run_offs), turn.allowed)
        name = "run-off" if run_off else attempt_name(measure, number, False)
        code = number_code(number, run_off)
        if turn.to_tick:
            ways.append(here_button(about, squad.id))
        if isinstance(measure, Count):
            ways.append(Button(key=key(DayKey.PAD_OPEN, about, squad.id, code), label="Run pad"))
        if isinstance(measure, Time):
            ways.append(Button(key=key(ActionKey.TABLE_READY, about, squad.id, code), label="Stopwatch"))
        ways.append(Button(key=key(ActionKey.TABLE_FORM, about, squad.id, code), label=f"Enter {name}"))
        ways[0] = ways[0].model_copy(update={"style": "main"})
    last = last_of(line.attempts, run_offs)
    if is_corrected(made, absent, turn.settled):
        ways.append(correct_button(about, squad.id))
    elif last is not None:
        undo = attempt_name(measure, last.number, last.run_off)
        ways.append(Button(key=key(ActionKey.TABLE_UNDO, last.id), label=f"Undo {undo}", style="danger"))
    return tuple(ways)


def _stop(event: Event, turn: Turn) -> tuple[tuple[Button, ...], ...]:
    """Stopping everything, where an event has safety lines."""
    if turn.closed or not event.cautions:
        return ()
    return ((stop_button(event.key),),)


def _go(squad: Squad, about: str, turn: Turn, more: bool) -> tuple[Button, ...]:
    """The ways on from a live message; where there is no `more` to do at this squad, the next one is the filled one."""
    ways: list[Button] = []
    if turn.following is not None:
        ways.append(next_button(about, turn.following))
    ways.append(all_squads_button(about))
    if not more:
        ways[0] = ways[0].model_copy(update={"style": "main"})
    if turn.closed:
        return tuple(ways)
    here = () if turn.to_tick and more else (here_button(about, squad.id),)
    return (*here, Button(key=key(ActionKey.TABLE_ABSENCE, about, squad.id), label="Absence"), *ways)
