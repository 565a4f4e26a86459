"""Attempts at the table: the form, the value read back, and what is said once it is saved."""

from decimal import Decimal
from fractions import Fraction

from bot.rules.core.parse_numbers import looks_like_minutes
from bot.rules.scoring.measures import attempt_value
from bot.words.core.action_keys import ActionKey
from bot.words.core.keys import key
from bot.words.core.number_text import clock, exact, several
from bot.words.core.plain_text import escape
from storage.records.message import Button, Choice, Form, FormField, Message, RadioField, TextField
from storage.records.people import Squad
from storage.records.plan import Count, Event, Measure, Share, Time
from storage.records.scores import Attempt

ALOUD = "-# Say it aloud; someone of the squad confirms it before you save."

REFUSALS = {
    "typed_blank": "Please type {what}. A blank is not a zero; type 0 if it is none.",
    "typed_whole": "**{typed}** will not do for {what}: type a whole number, such as 14.",
    "typed_number": "**{typed}** will not do for {what}: type a number, such as 5 or 2.5.",
    "typed_many": "**{typed}** is too much for {what}: {most} is the most I take. Please look again.",
    "typed_time": "I cannot read **{typed}** as a time. Type minutes and seconds like 1:32.4, or seconds like 92.4.",
    "typed_watches": "**{typed}** holds more than {most} watches. Type {most} at most, as in 1:32.4 / 1:32.6.",
    "typed_sixty": "**{typed}** has 60 seconds or more beside the minutes. Type minutes and seconds like 1:32.4.",
    "typed_line_time": "I cannot read **{typed}**. Type the time and the faults, such as 1:32.4 2, or dnf.",
    "typed_line_count": "I cannot read **{typed}**. Type how many ({names}), then points off, such as -5.",
    "plan_moved": "The plan has changed since this was typed. Please open the table again with /table open.",
    "attempt_item": "The plan knows no {item} any more. Please open the table again with /table open.",
    "attempt_count": "{count} of {item} is not possible; {most} is the most. Please look again.",
    "attempt_deductions": "Points taken off cannot be below 0. Type 5 to take 5 points off.",
    "attempt_seconds": "A time of {seconds} seconds is not possible. Please look at the watch again.",
    "attempt_faults": "{faults} faults are not possible; {most} is the most. Please look again.",
    "attempt_members": "{contributing} of {members} members is not possible. Please count again.",
    "attempts_used": "**{squad}** has used all its attempts: {most}. To replace one, undo the last one first.",
    "attempt_taken": "Attempt {number} of **{squad}** is on record already: {value}. Open the squad again to see it.",
    "attempt_gone": "That attempt is no longer the last one of its squad. Open the squad again to see what stands.",
    "squad_absent": "**{squad}** is noted as not taking part here. Press **Absence** to change that first.",
    "no_tie": "**{squad}** is in no tie that a run-off could break. The standings name the ties.",
}


def value_text(measure: Measure, attempt: Attempt) -> str:
    """An attempt with the sum behind it, such as `14 socks x 10 = 140 points`."""
    if isinstance(measure, Count):
        return _count_text(measure, attempt)
    if isinstance(measure, Time):
        return _time_text(measure, attempt)
    return f"{attempt.contributing} of {several(attempt.members or 0, 'member')} contributed"


def _count_text(measure: Count, attempt: Attempt) -> str:
    terms = [
        f"{several(attempt.items.get(item.key, 0), escape(item.name))} x {exact(item.points)}" for item in measure.items
    ]
    total = f"{' + '.join(terms)}"
    if attempt.deductions:
        total += f" - {exact(attempt.deductions)}"
    value = attempt_value(measure, attempt)
    assert value is not None
    points = sum((item.points * attempt.items.get(item.key, 0) for item in measure.items), -attempt.deductions)
    if points < 0:
        return f"{total} is below 0, so 0 points"
    return f"{total} = {exact(value)} {'point' if value == 1 else 'points'}"


def _time_text(measure: Time, attempt: Attempt) -> str:
    if attempt.seconds is None:
        return "did not finish"
    text = clock(attempt.seconds)
    if attempt.seconds > measure.limit:
        return f"{text} is over the limit of {clock(measure.limit)}, so it did not finish"
    if not attempt.faults:
        return text
    value = attempt_value(measure, attempt)
    assert value is not None
    return f"{text} + {several(attempt.faults, 'fault')} x {exact(measure.fault_seconds)} s = {clock(value)}"


def attempt_name(measure: Measure, number: int, run_off: bool) -> str:
    """`attempt 2 of 3`, `run-off 1`, or `hands` for a share."""
    if run_off:
        return f"run-off {number}"
    if isinstance(measure, Share):
        return "members who contributed"
    most = measure.attempts if isinstance(measure, Count | Time) else 1
    return f"attempt {number} of {most}"


def where(squad: Squad, event: Event, measure: Measure) -> str:
    """The squad with its number, and what it is doing."""
    part = "" if measure.name == event.name else f", {escape(measure.name)}"
    return f"**{squad.number} {escape(squad.name)}**: {escape(event.name)}{part}"


def squad_label(squad: Squad) -> str:
    """The squad's number beside its name, for a list."""
    return f"{squad.number} {squad.name}"[:100]


def count_fields(measure: Count, counts: tuple[str, ...], deductions: str) -> tuple[FormField, ...]:
    """A number for each kind of item; points off where the form has room (with five kinds they have a form apart)."""
    counts = counts or ("",) * len(measure.items)
    fields: list[FormField] = [
        TextField(
            key=f"item-{item.key}",
            label=item.name[:45],
            hint=f"How many; {exact(item.points)} points each.",
            value=value,
            most=9,
            least=1,
        )
        for item, value in zip(measure.items, counts, strict=True)
    ]
    if len(fields) < 5:
        fields.append(_deductions(deductions))
    return tuple(fields)


def _deductions(value: str) -> TextField:
    return TextField(
        key="deductions", label="Points off", hint="Leave 0 if there are none.", value=value or "0", most=9
    )


def time_fields(measure: Time, seconds: str, faults: str) -> tuple[FormField, ...]:
    """The time, the faults, and whether the squad finished."""
    finished = seconds != "dnf"
    return (
        TextField(
            key="time",
            label="Time",
            hint=f"Such as 1:32.4 or 92.4; several watches: 1:32.4 / 1:32.6. The limit is {clock(measure.limit)}."[
                :100
            ],
            value="" if seconds in ("", "dnf") else clock_typed(seconds),
            most=20,
            required=False,
        ),
        TextField(
            key="faults",
            label="Faults",
            hint=f"Each adds {exact(measure.fault_seconds)} seconds.",
            value=faults or "0",
            most=9,
        ),
        RadioField(
            key="finished",
            label="Did the squad finish?",
            choices=(
                Choice(value="yes", label="Finished", chosen=finished),
                Choice(
                    value="no",
                    label="Did not finish",
                    note="No time counts; the squad scores 0 here.",
                    chosen=not finished,
                ),
            ),
        ),
    )


def clock_typed(seconds: str) -> str:
    """A time as it would be typed again."""
    return clock(Decimal(seconds)).removesuffix(" s")


def share_fields(members: int, contributing: str, handed_in: int | None = None) -> tuple[FormField, ...]:
    """How many members contributed; the number who have handed in a part is proposed, to be looked at by a person."""
    hint = f"Of the squad's {members}."
    if handed_in is not None:
        hint += f" {several(handed_in, 'part')} handed in: is that who contributed?"
    return (
        TextField(
            key="contributing",
            label="Members who contributed",
            hint=hint,
            value=contributing or ("" if handed_in is None else str(handed_in)),
            most=9,
            least=1,
        ),
    )


def attempt_form(form_key: str, squad: Squad, name: str, fields: tuple[FormField, ...]) -> Form:
    """The form for one attempt, headed by the squad so that nobody types for the wrong one."""
    title = f"{squad.number} {squad.name}"
    return Form(key=form_key, title=title if len(title) <= 45 else f"{title[:44]}…", fields=fields)


def deductions_form(form_key: str, squad: Squad, deductions: str) -> Form:
    """Points off, where five kinds of items left no room for them."""
    return attempt_form(form_key, squad, "", (_deductions(deductions),))


def read_back(
    squad: Squad, event: Event, measure: Measure, attempt: Attempt, typed: tuple[str, ...], note: str = ""
) -> Message:
    """What was typed with its sum, before it is saved."""
    name = attempt_name(measure, attempt.number, attempt.run_off)
    text = f"{where(squad, event, measure)}, {name}\n{value_text(measure, attempt)}. Right?{note}\n{ALOUD}"
    about = (f"{event.key}.{measure.key}", squad.id, number_code(attempt.number, attempt.run_off), *typed)
    buttons = [
        Button(key=key(ActionKey.TABLE_SAVE, *about), label="Save", style="main"),
        Button(key=key(ActionKey.TABLE_FORM, *about), label="Change"),
    ]
    if isinstance(measure, Count) and len(measure.items) == 5:
        buttons.append(Button(key=key(ActionKey.TABLE_OFF, *about), label="Points off"))
    return Message(text=text, rows=(tuple(buttons),))


def slip_note(measure: Measure, attempt: Attempt) -> str:
    """A question when a value looks like a slip: above the maximum, beyond the limit, minutes typed as seconds."""
    if isinstance(measure, Count) and measure.maximum is not None:
        value = attempt_value(measure, attempt)
        if value is not None and value > Fraction(measure.maximum):
            return f"\nThe plan knows {exact(measure.maximum)} points at most. If that is a slip, press **Change**."
    if not isinstance(measure, Time) or attempt.seconds is None:
        return ""
    if attempt.seconds > measure.limit:
        return "\nThat is longer than the limit. Did you mean something else? If so, press **Change**."
    meant = looks_like_minutes(attempt.seconds)
    if meant is not None:
        return f"\nI read that as seconds. If you meant {clock(meant)}, press **Change** and type {clock(meant)}."
    return ""


def number_code(number: int, run_off: bool) -> str:
    """The number of an attempt inside a key: `2`, or `r1` for a run-off."""
    return f"r{number}" if run_off else str(number)


def saved(
    squad: Squad, event: Event, measure: Measure, attempt: Attempt, following: Squad | None, more: bool
) -> Message:
    """It is on record; the next squad is one press away."""
    about = f"{event.key}.{measure.key}"
    name = attempt_name(measure, attempt.number, attempt.run_off)
    text = f"Saved. {where(squad, event, measure)}, {name}\n{value_text(measure, attempt)}"
    buttons: list[Button] = []
    if following is not None:
        label = f"Next: {following.number} {following.name}"
        buttons.append(
            Button(
                key=key(ActionKey.TABLE_SQUAD, about, following.id),
                label=label if len(label) <= 38 else f"{label[:37]}…",
                style="main",
            )
        )
    if more:
        buttons.append(
            Button(
                key=key(ActionKey.TABLE_SQUAD, about, squad.id), label=f"Attempt {attempt.number + 1} of the same squad"
            )
        )
    buttons.append(Button(key=key(ActionKey.TABLE_UNDO, attempt.id), label="Undo", style="danger"))
    buttons.append(Button(key=key(ActionKey.TABLE_SQUADS, 0, about), label="All squads"))
    return Message(text=text, rows=(tuple(buttons),))


def sure_to_undo(squad: Squad, event: Event, measure: Measure, attempt: Attempt) -> Message:
    """Ask once, and for the reason."""
    name = attempt_name(measure, attempt.number, attempt.run_off)
    text = (
        f"Undo {name}? {where(squad, event, measure)}\n{value_text(measure, attempt)}\n"
        "It stays on record as undone. Why does it not count?"
    )
    return Message(
        text=text,
        rows=(
            (
                Button(
                    key=key(ActionKey.TABLE_UNDONE, attempt.id, "slip"), label="It was entered wrongly", style="danger"
                ),
                Button(
                    key=key(ActionKey.TABLE_UNDONE, attempt.id, "rerun"),
                    label="Our equipment failed: run again",
                    style="danger",
                ),
                Button(key=key(ActionKey.TABLE_SQUAD, f"{event.key}.{measure.key}", squad.id), label="Keep it"),
            ),
        ),
    )


def undone(squad: Squad, event: Event, measure: Measure, attempt: Attempt, reason: str) -> Message:
    """It counts no more; it can be entered again."""
    why = "entered wrongly" if reason == "slip" else "our equipment failed, so the squad runs again"
    name = attempt_name(measure, attempt.number, attempt.run_off)
    about = f"{event.key}.{measure.key}"
    return Message(
        text=f"Undone ({why}). {where(squad, event, measure)}, {name}\n{value_text(measure, attempt)}",
        rows=(
            (
                Button(key=key(ActionKey.TABLE_SQUAD, about, squad.id), label="Enter it again", style="main"),
                Button(key=key(ActionKey.TABLE_SQUADS, 0, about), label="All squads"),
            ),
        ),
    )
