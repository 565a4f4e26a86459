"""The fields in which an attempt is typed, by what is measured."""

from decimal import Decimal

from bot.rules.core.measure_direction import lower_is_better
from bot.words.core.choices import choice
from bot.words.core.number_text import clock, exact, points, several
from bot.words.core.plain_text import cut
from storage.records.message import FormField, RadioField, SelectField, TextField
from storage.records.plan_measures import Checklist, Count, Item, Measure, Number, Time


def count_fields(measure: Count, counts: tuple[str, ...], deductions: str) -> tuple[FormField, ...]:
    """A number for each kind of item; points off where the form has room (with five kinds they have a form apart)."""
    counts = counts or ("",) * len(measure.items)
    fields: list[FormField] = [
        TextField(
            key=f"item-{item.key}",
            label=cut(item.name, 45),
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
    return TextField(key="deductions", label=label, hint="Leave 0 if there are none.", value=value or "0", most=9)


def number_fields(measure: Number, amount: str) -> tuple[FormField, ...]:
    """The measured value."""
    digits = f", at most {several(measure.decimals, 'decimal')}" if measure.decimals else ", a whole number"
    better = "Lower" if measure.better == "lower" else "Higher"
    hint = f"In {measure.unit}{digits}, {exact(measure.lowest)} to {exact(measure.highest)}. {better} is better."
    return (TextField(key="amount", label=cut(measure.name, 45), hint=cut(hint, 100), value=amount, most=24, least=1),)


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
            key="ticked", label=cut(measure.name, 45), hint=hint, choices=choices, least=0, most=most, required=False
        ),
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
                choice("yes", "Finished", chosen=finished),
                choice("no", "Did not finish", "No time counts; the squad scores 0 here.", chosen=not finished),
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
        hint += f" {several(handed_in, 'part')} handed in: is that who took part?"
    return (
        TextField(
            key="contributing",
            label="Members who took part",
            hint=hint,
            value=contributing or ("" if handed_in is None else str(handed_in)),
            most=9,
            least=1,
        ),
    )
