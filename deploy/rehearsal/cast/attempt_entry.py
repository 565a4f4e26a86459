"""What scorekeepers count, measure and type in of an attempt: better for a better squad, within what a form says."""

from __future__ import annotations

import re
from random import Random

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.stage import Stage
from deploy.rehearsal.phones.form_answers import named
from deploy.rehearsal.wire.forms import Field, Form
from deploy.rehearsal.wire.rendering import Option


def counted(stage: Stage, cast: Cast, squad: str, about: str, item: str) -> int:
    """How many of an item a squad brings in a run: what would be typed into its form."""
    return _bring(stage.chance(squad, about, item), 10, cast.skill(squad))


def typed_values(stage: Stage, cast: Cast, form: Form, about: str, title: str = "") -> dict[str, str | list[Option]]:
    """What the scorekeeper types, by how good the squad is; every squad has its own skill.

    `title` is what stands above the form at the table, where this is another form for the same.
    """
    squad = title or form.title
    skill = cast.skill(squad)
    return {named(form, field): value(stage.chance(squad, about, field.label), field, skill) for field in form.fields}


def value(chance: Random, field: Field, skill: float) -> str | list[Option]:
    """One value within what the field says is possible, better for a better squad."""
    if field.label == "Time":
        return _time(chance, field.description, skill)
    if field.label == "Faults":
        return str(chance.randint(0, 3))
    if field.label.startswith("Points "):
        return "0"
    if field.kind == "options":
        return [option for option in field.options if chance.random() < 0.3 + 0.6 * skill][: field.most]
    if field.options:
        return [field.options[0]]
    return _count(chance, field, skill)


def _count(chance: Random, field: Field, skill: float) -> str:
    """A number of things or of members, or a measured number, within the bounds that the field names."""
    of, said = re.search(r"Of the squad's (\d+)", field.description), field.description
    if of is not None and field.value:
        # What the hand-in says is proposed, and the scorekeeper has counted the same.
        return field.value
    if of is not None:
        members = int(of[1])
        return str(members if chance.random() < 0.6 + 0.4 * skill else members - 1)
    bounds = re.search(r"(-?[\d.]+) to (-?[\d.]+)", said)
    if bounds is not None:
        return _number(chance, float(bounds[1].rstrip(".")), float(bounds[2].rstrip(".")), said, skill)
    if re.search(r"; -\d", said):
        return str(chance.randint(0, 1))
    there_are = re.search(r"There are (\d+)", said)
    most = 10 if there_are is None else int(there_are[1])
    return str(_bring(chance, most, skill))


def _bring(chance: Random, most: int, skill: float) -> int:
    """How many of so many things a squad brings."""
    return max(0, min(most, round(most * (0.3 + 0.6 * skill) + chance.gauss(0, 1) * most / 10)))


def _time(chance: Random, said: str, skill: float) -> str:
    """A time within the limit that the field names: 8 minutes where it names none."""
    limit = re.search(r"limit is (?:(\d+):)?(\d+(?:\.\d+)?)", said)
    whole = 480.0 if limit is None else 60 * int(limit[1] or 0) + float(limit[2])
    seconds = round((420 - 300 * skill + chance.uniform(-40, 40)) * whole / 480, 1 if whole >= 10 else 2)
    if seconds < 1:
        return f"{max(0.01, seconds):.2f}"
    return f"{int(seconds // 60)}:{seconds % 60:04.1f}"


def _number(chance: Random, lowest: float, highest: float, said: str, skill: float) -> str:
    """A measured number between the lowest and the highest that are possible, with the decimals that may be typed."""
    decimals = re.search(r"at most (\d+) decimal", said)
    place = 1 - skill if "Lower is better" in said else skill
    part = min(0.95, max(0.05, 0.1 + 0.7 * place + chance.uniform(-0.08, 0.08)))
    value = round(lowest + (highest - lowest) * part, int(decimals[1]) if decimals else 0)
    return f"{min(highest, max(lowest, value)):.{int(decimals[1]) if decimals else 0}f}"
