"""The first half of the second implementation: attempts, panels and scales, each as the page of formulas says it."""

from collections.abc import Callable
from fractions import Fraction
from math import isqrt
from typing import Any

Json = dict[str, Any]
ONE = Fraction(1)


def lower_is_better(measure: Json) -> bool:
    return measure["kind"] == "time" or measure.get("better") == "lower"


def attempt_value(measure: Json, line: Json) -> Fraction | None:
    match measure["kind"]:
        case "count":
            points = sum(
                (Fraction(item["points"]) * line["items"].get(item["key"], 0) for item in measure["items"]), Fraction(0)
            )
            off = Fraction(line["deductions"])
            signed: Fraction = points + off if lower_is_better(measure) else points - off
            return max(signed, Fraction(0))
        case "checklist":
            ticked = [Fraction(one["points"]) for one in measure["lines"] if line["items"].get(one["key"])]
            return max(sum(ticked, Fraction(0)), Fraction(0))
        case "number":
            return Fraction(line["amount"])
        case "time":
            if line["seconds"] is None or Fraction(line["seconds"]) > Fraction(measure["limit"]):
                return None
            faults = int(line["faults"])
            return Fraction(line["seconds"]) + faults * Fraction(measure["fault_seconds"])
        case "share":
            return Fraction(line["contributing"], line["members"])
    raise AssertionError(measure["kind"])


def kept(measure: Json, values: list[Fraction | None]) -> tuple[str, int, Fraction | None]:
    """`value`, or what is missing and how many are needed."""
    if measure["kind"] == "share":
        return ("value", 1, values[-1]) if values else ("no_attempt", 1, None)
    values = values[: measure["attempts"]]
    rule = measure["keep"]
    needed = {"best": 1, "sum": measure["attempts"], "mean-of-best-two": min(2, measure["attempts"])}[rule]
    if len(values) < needed:
        return ("too_few_attempts" if values else "no_attempt", needed, None)
    best_first = sorted((v for v in values if v is not None), reverse=not lower_is_better(measure))
    if rule == "sum":
        return "value", needed, sum(best_first, Fraction(0)) if len(best_first) == len(values) else None
    if len(best_first) < needed:
        return "value", needed, None
    return "value", needed, sum(best_first[:needed], Fraction(0)) / needed


def over_panel(rule: str, sheets: list[tuple[Fraction, Fraction]]) -> Fraction:
    """From (value, weight) of the counted sheets."""
    if rule == "median":
        half, reached = sum(weight for _, weight in sheets) / 2, Fraction(0)
        ordered = sorted(sheets)
        for place, (value, weight) in enumerate(ordered):
            reached += weight
            if reached > half:
                return value
            if reached == half:
                return (value + ordered[place + 1][0]) / 2
    if rule == "trimmed" and len(sheets) >= 5:
        sheets = list(sheets)
        sheets.remove(min(sheets))
        sheets.remove(min(sheets, key=lambda one: (-one[0], one[1])))
    return sum((v * w for v, w in sheets), Fraction(0)) / sum((w for _, w in sheets), Fraction(0))


def solve(matrix: list[list[Fraction]], right: list[Fraction]) -> list[Fraction]:
    """Gauss and Jordan."""
    size = len(matrix)
    rows = [[*row, value] for row, value in zip(matrix, right, strict=True)]
    for step in range(size):
        swap = next(row for row in range(step, size) if rows[row][step])
        rows[step], rows[swap] = rows[swap], rows[step]
        rows[step] = [value / rows[step][step] for value in rows[step]]
        for other in range(size):
            if other != step and rows[other][step]:
                times = rows[other][step]
                rows[other] = [a - times * b for a, b in zip(rows[other], rows[step], strict=True)]
    return [row[-1] for row in rows]


def parts_of(seen: list[tuple[int, int]]) -> list[tuple[set[int], set[int]]]:
    parts: list[tuple[set[int], set[int]]] = []
    for squad, judge in seen:
        joined = [part for part in parts if squad in part[0] or judge in part[1]]
        parts = [part for part in parts if part not in joined]
        parts.append(({squad}.union(*(p[0] for p in joined)), {judge}.union(*(p[1] for p in joined))))
    return parts


def adjusted(
    sheets: dict[tuple[int, int], Fraction], weights: dict[int, Fraction]
) -> tuple[dict[int, Fraction], dict[int, Fraction], list[set[int]]]:
    """Squad numbers, judge effects and parts: the normal equations with the condition in the place of one of them."""
    squads: dict[int, Fraction] = {}
    effects: dict[int, Fraction] = {}
    parts = parts_of(list(sheets))
    for own, judges in parts:
        names = [("s", squad) for squad in sorted(own)] + [("j", judge) for judge in sorted(judges)]
        at = {name: place for place, name in enumerate(names)}
        matrix = [[Fraction(0)] * len(names) for _ in names]
        right = [Fraction(0)] * len(names)
        for (squad, judge), value in sheets.items():
            if squad in own:
                s, j, w = at["s", squad], at["j", judge], weights[judge]
                for a, b in ((s, s), (s, j), (j, j), (j, s)):
                    matrix[a][b] += w
                right[s] += w * value
                right[j] += w * value
        matrix[-1] = [weights[name] if kind == "j" else Fraction(0) for kind, name in names]
        right[-1] = Fraction(0)
        for (kind, name), value in zip(names, solve(matrix, right), strict=True):
            (squads if kind == "s" else effects)[name] = value
    return squads, effects, [own for own, _ in parts]


class Roots:
    def __init__(self) -> None:
        self.bases: list[tuple[int, Fraction]] = []

    def of(self, square: Fraction) -> Fraction:
        inside = square.numerator * square.denominator
        if isqrt(inside) ** 2 == inside:
            return Fraction(isqrt(inside), square.denominator)
        for base, root in self.bases:
            if isqrt(inside * base) ** 2 == inside * base:
                return root * isqrt(inside * base) / base / square.denominator
        root = Fraction(isqrt(inside * 10**120), 10**60)
        self.bases.append((inside, root))
        return root / square.denominator


def top(measure: Json) -> Fraction:
    if measure["kind"] == "rubric":
        return sum((Fraction(c["weight"]) * len(c["levels"]) for c in measure["criteria"]), Fraction(0))
    if measure["kind"] == "share":
        return ONE
    if "maximum" in measure:
        return Fraction(measure["maximum"])
    times = measure["attempts"] if measure["keep"] == "sum" else 1
    if measure["kind"] == "checklist":
        return times * sum((Fraction(one["points"]) for one in measure["lines"] if one["points"] > 0), Fraction(0))
    return times * Fraction(measure["limit"] if measure["kind"] == "time" else measure["highest"])


def on_scale(measure: Json, values: dict[int, Fraction | None], roots: Roots) -> dict[int, Fraction]:
    lower, scale = lower_is_better(measure), measure["scale"]
    given = {squad: value for squad, value in values.items() if value is not None}
    if not given:
        return dict.fromkeys(values, Fraction(0))
    best = min(given.values()) if lower else max(given.values())
    formula: Callable[[Fraction], Fraction]
    if scale == "maximum":
        most = top(measure)
        formula = lambda value: (most - value) / most if lower else value / most  # noqa: E731
    elif scale == "best":
        formula = lambda value: Fraction(0) if best == 0 else best / value if lower else value / best  # noqa: E731
    elif scale == "between":
        floor, full = Fraction(measure["floor"]), Fraction(measure["full"])
        formula = lambda value: (value - floor) / (full - floor)  # noqa: E731
    elif scale == "rank":

        def formula(value: Fraction) -> Fraction:
            before = sum((other < value) if lower else (other > value) for other in given.values())
            equal = sum(other == value for other in given.values())
            rank = before + Fraction(1 + equal, 2)
            return (len(values) - rank) / (len(values) - 1) if len(values) > 1 else Fraction(1, 2)
    else:
        mean = sum(given.values(), Fraction(0)) / len(given)
        square = sum(((value - mean) ** 2 for value in given.values()), Fraction(0)) / len(given)
        spread = roots.of(square) if square else ONE
        formula = lambda value: Fraction(1, 2) + (mean - value if lower else value - mean) / (10 * spread)  # noqa: E731
    found = {squad: formula(value) for squad, value in given.items()}
    found = {squad: max(value, Fraction(0)) for squad, value in found.items()}
    if scale != "maximum" or measure["over_maximum"] == "cap":
        found = {squad: min(value, ONE) for squad, value in found.items()}
    return dict.fromkeys(values, Fraction(0)) | found
