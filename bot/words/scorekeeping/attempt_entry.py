"""Typing an attempt: the fields of its form, by what is measured, and why what was typed will not do."""

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal_reasons import AnyReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.attempt_entry import AT_FIRST
from bot.rules.scorekeeping.counted_shares import proposed_share
from bot.rules.scorekeeping.typed_times import Asked
from bot.words.core.buttons import TABLE
from bot.words.core.choices import choice
from bot.words.core.number_text import exact, points, several
from bot.words.core.plain_text import cut
from bot.words.scorekeeping.typed_times import clock_typed, time_hint
from storage.records.message import FORM_LABEL, FormField, RadioField, SelectField, TextField
from storage.records.plan_measures import Checklist, Count, Item, Measure, Number, Time

REFUSALS: dict[AnyReason, str] = {
    TableReason.TYPED_BLANK: "Please type {what}. A blank is not a zero; type 0 if it is none.",
    TableReason.TYPED_WHOLE: "**{typed}** will not do for {what}: type a whole number, such as 14.",
    TableReason.TYPED_NUMBER: "**{typed}** will not do for {what}: type a number, such as 5 or 2.5.",
    TableReason.TYPED_THOUSANDS: "**{typed}** for {what} can mean two things: type **{whole}**, or **{part}** with a "
    "point.",
    TableReason.TYPED_MANY: "**{typed}** is too much for {what}: {most} is the most I take. Please look again.",
    TableReason.ATTEMPT_COUNT: "{count} of {item} is not possible; {most} is the most. Please look again.",
    TableReason.ATTEMPT_DEDUCTIONS: "Points taken off cannot be below 0. Type 5 to take 5 points off.",
    TableReason.ATTEMPT_AMOUNT: "{amount} {unit} is not possible: the plan says {lowest} to {highest} {unit}. Please "
    "look again.",
    TableReason.ATTEMPT_DECIMALS: "{amount} has too many decimals; the plan says {decimals}. Please round it.",
    TableReason.ATTEMPT_SECONDS: "A time of {seconds} seconds is not possible. Please look at the watch again.",
    TableReason.ATTEMPT_FAULTS: "{faults} faults are not possible; {most} is the most. Please look again.",
    TableReason.ATTEMPT_MEMBERS: "Members: {contributing} of {members} is not possible. Please count again.",
    TableReason.PLAN_MOVED: "The plan has changed since this was typed. Please open the table again.",
    TableReason.ATTEMPT_ITEM: "There is no {item} in the plan any more. Please open the table again.",
}
NAMED = {
    Asked.TIME: "the time",
    Asked.FAULTS: "the faults",
    Asked.POINTS_OFF: "the points off",
    Asked.CONTRIBUTING: "the members who contributed",
}
"""What was asked for, within these sentences."""
LEAD_ON = dict.fromkeys((TableReason.PLAN_MOVED, TableReason.ATTEMPT_ITEM), ((TABLE,),))


def count_fields(measure: Count, counts: tuple[str, ...], deductions: str) -> tuple[FormField, ...]:
    """A number for each kind of item; points off where the form has room (with five kinds they have a form apart)."""
    counts = counts or ("",) * len(measure.items)
    fields: list[FormField] = [
        TextField(
            key=f"item-{item.key}",
            label=cut(item.name, FORM_LABEL),
            hint=_item_hint(item),
            value=value,
            most=9,
            least=1,
        )
        for item, value in zip(measure.items, counts, strict=True)
    ]
    if len(fields) < 5:
        fields.append(deductions_field(measure, deductions))
    return tuple(fields)


def _item_hint(item: Item) -> str:
    most = f" There are {item.most}." if item.most is not None else ""
    return f"How many; {points(item.points)} each.{most}"


def deductions_field(measure: Measure, value: str) -> TextField:
    """Points off; where lower is better, points added."""
    label = "Points added as a penalty" if lower_is_better(measure) else "Points off"
    return TextField(
        key="deductions", label=label, hint="Leave 0 if there are none.", value=value or AT_FIRST["deductions"], most=9
    )


def number_fields(measure: Number, amount: str) -> tuple[FormField, ...]:
    """The measured value."""
    digits = f", at most {several(measure.decimals, 'decimal')}" if measure.decimals else ", a whole number"
    better = "Lower" if measure.better == "lower" else "Higher"
    hint = f"In {measure.unit}{digits}, {exact(measure.lowest)} to {exact(measure.highest)}. {better} is better."
    return (
        TextField(
            key="amount", label=cut(measure.name, FORM_LABEL), hint=cut(hint, 100), value=amount, most=24, least=1
        ),
    )


def checklist_fields(measure: Checklist, ticks: str) -> tuple[FormField, ...]:
    """The lines of a checklist, to be ticked."""
    ticks = ticks or "0" * len(measure.lines)
    choices = tuple(
        choice(line.key, line.name, points(line.points), chosen=tick == "1")
        for line, tick in zip(measure.lines, ticks, strict=True)
    )
    hint = "Pick every line that is a yes. Pick nothing if all are a no."
    most = len(choices)
    return (
        SelectField(
            key="ticked",
            label=cut(measure.name, FORM_LABEL),
            hint=hint,
            choices=choices,
            least=0,
            most=most,
            required=False,
        ),
    )


def time_fields(measure: Time, seconds: str, faults: str) -> tuple[FormField, ...]:
    """The time, the faults, and whether the squad finished."""
    finished = seconds != "dnf" if faults else AT_FIRST["finished"] == "yes"
    return (
        TextField(
            key="time",
            label="Time",
            hint=time_hint(measure.limit),
            value="" if seconds in ("", "dnf") else clock_typed(seconds),
            most=20,
            required=False,
        ),
        TextField(
            key="faults",
            label="Faults",
            hint=f"Each adds {exact(measure.fault_seconds)} seconds.",
            value=faults or AT_FIRST["faults"],
            most=9,
        ),
        RadioField(
            key="finished",
            label="Did the squad finish?",
            choices=(
                choice("yes", "Finished", chosen=finished),
                choice("no", "Did not finish", "No time counts; the squad scores 0 here.", chosen=not finished),
            ),
        ),
    )


def share_fields(members: int, contributing: str, handed_in: int | None = None) -> tuple[FormField, ...]:
    """How many members contributed; the number who have handed in a part is proposed, to be looked at by a person."""
    hint = f"Of the squad's {members}."
    if handed_in is not None:
        hint += f" {several(handed_in, 'part')} handed in: is that who took part?"
    return (
        TextField(
            key="contributing",
            label="Members who took part",
            hint=hint,
            value=contributing or proposed_share(handed_in),
            most=9,
            least=1,
        ),
    )
