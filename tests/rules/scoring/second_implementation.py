"""A second implementation of the page of formulas: plain Python, written from that page, importing nothing of the bot.

Slow and straightforward on purpose. `recomputed` takes a packet as parsed JSON and gives its `results` anew.
"""

import tomllib
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from tests.rules.scoring.second_values import (
    Json,
    Roots,
    adjusted,
    attempt_value,
    kept,
    lower_is_better,
    on_scale,
    over_panel,
)


class Recomputed:
    """One packet's way from what was recorded to the places."""

    def __init__(self, packet: Json) -> None:
        self.packet, self.plan = packet, tomllib.loads(packet["plan"], parse_float=Fraction)
        self.away = {(a["squad"], a["event"]): a["excused"] for a in packet["absences"]}
        self.weights = {judge["number"]: Fraction(judge["weight"]) for judge in packet["judges"]}
        self.squads = sorted(packet["squads"])
        self.out: Json = {name: {} for name in ("attempts", "sheets", "judge_effects", "values", "scaled", "events")}
        self.gaps: dict[int, list[str]] = {squad: [] for squad in self.squads}
        self.points: dict[tuple[int, str], Fraction | None] = {}
        self.values: dict[str, dict[int, Fraction | None]] = {}
        self.panels: dict[str, dict[int, list[Json]]] = {}
        self.roots = Roots()

    def run(self) -> Json:
        scaled = {}
        for event in self.plan["events"]:
            for measure in event["measures"]:
                where = f"{event['key']}.{measure['key']}"
                here = [squad for squad in self.squads if (squad, event["key"]) not in self.away]
                tally = self.tally_sheets if measure["kind"] == "rubric" else self.tally_attempts
                self.values[where] = tally(event, measure, where, here)
                scaled[where] = on_scale(measure, self.values[where], self.roots)
                for squad in self.squads:
                    self.out["values"][f"{squad}/{where}"] = self.values[where].get(squad)
                    self.out["scaled"][f"{squad}/{where}"] = scaled[where].get(squad)
        totals = {squad: self.total(squad, scaled) for squad in self.squads}
        return self.out | {"totals": {str(squad): total for squad, total in totals.items()}} | self.ranked(totals)

    def lines(self, event: Json, measure: Json, squad: int, run_off: bool) -> list[Json]:
        found = [
            line
            for line in self.packet["attempts"]
            if (line["squad"], line["event"], line["measure"], line["run_off"])
            == (squad, event["key"], measure["key"], run_off)
        ]
        return sorted(found, key=lambda line: int(line["number"]))

    def tally_attempts(self, event: Json, measure: Json, where: str, here: list[int]) -> dict[int, Fraction | None]:
        values = {}
        for squad in self.squads:
            made = self.lines(event, measure, squad, False)
            for line in made + self.lines(event, measure, squad, True):
                name = ("run-off " if line["run_off"] else "") + str(line["number"])
                self.out["attempts"][f"{squad}/{where}/{name}"] = attempt_value(measure, line)
            if squad in here:
                state, _, value = kept(measure, [attempt_value(measure, line) for line in made])
                if state == "value":
                    values[squad] = value
                else:
                    self.gaps[squad].append(f"{squad}/{state}/{where}")
        return values

    def tally_sheets(self, event: Json, measure: Json, where: str, here: list[int]) -> dict[int, Fraction | None]:
        keys = [criterion["key"] for criterion in measure["criteria"]]
        panels: dict[int, list[Json]] = {squad: [] for squad in here}
        owing = set()
        for line in sorted(self.packet["sheets"], key=lambda line: int(line["judge"])):
            squad, judge = line["squad"], line["judge"]
            if (line["event"], line["measure"]) != (event["key"], measure["key"]) or squad not in here:
                continue
            if line["marks"] is not None and all(key in line["marks"] for key in keys):
                value = sum((Fraction(c["weight"]) * line["marks"][c["key"]] for c in measure["criteria"]), Fraction(0))
                self.out["sheets"][f"{squad}/{where}/{judge}"] = value
                if self.weights[judge]:
                    panels[squad].append(line | {"value": value})
            elif self.weights[judge]:
                owing.add(squad)
                self.gaps[squad].append(f"{squad}/open_sheet/{where}/{judge}")
        for squad in here:
            if squad not in owing and not panels[squad]:
                self.gaps[squad].append(f"{squad}/no_sheet/{where}")
        self.panels[where] = panels
        complete = {squad for squad in here if panels[squad] and squad not in owing}
        values, effects, parts = self.over(measure, panels, lambda line: Fraction(line["value"]))
        for judge, effect in effects.items():
            self.out["judge_effects"][f"{where}/{judge}"] = effect
        if measure["panel"] == "adjusted":
            sizes = sorted((len(part & complete) for part in parts), reverse=True)
            main: set[int] = set()
            if sizes and (len(sizes) == 1 or sizes[0] > sizes[1]):
                main = next(part for part in parts if len(part & complete) == sizes[0])
            for squad in sorted(complete - main):
                self.gaps[squad].append(f"{squad}/unconnected/{where}")
            complete &= main
        return {squad: values[squad] for squad in complete}

    def over(
        self, measure: Json, panels: dict[int, list[Json]], value: Callable[[Json], Fraction]
    ) -> tuple[dict[int, Fraction], dict[int, Fraction], list[set[int]]]:
        if measure["panel"] == "adjusted":
            sheets = {(squad, line["judge"]): value(line) for squad, own in panels.items() for line in own}
            return adjusted(sheets, self.weights)
        found = {
            squad: over_panel(measure["panel"], [(value(line), self.weights[line["judge"]]) for line in own])
            for squad, own in panels.items()
            if own
        }
        return found, {}, []

    def total(self, squad: int, scaled: dict[str, dict[int, Fraction]]) -> Fraction | None:
        weight, whole = Fraction(0), Fraction(0)
        for event in self.plan["events"]:
            excused = self.away.get((squad, event["key"]))
            points: Fraction | None = None if excused else Fraction(0)
            if excused is None:
                own = [
                    (Fraction(m["weight"]), scaled[f"{event['key']}.{m['key']}"].get(squad)) for m in event["measures"]
                ]
                all_of = sum((w for w, _ in own), Fraction(0))
                points = None
                if all(value is not None for _, value in own):
                    points = 100 * sum((w * value for w, value in own if value is not None), Fraction(0)) / all_of
            self.points[squad, event["key"]] = points
            self.out["events"][f"{squad}/{event['key']}"] = points
            if not excused:
                weight += Fraction(event["weight"])
                whole += Fraction(event["weight"]) * (points or 0)
        if not weight:
            self.gaps[squad].append(f"{squad}/all_excused/-")
        return None if self.gaps[squad] else whole / weight

    def ranked(self, totals: dict[int, Fraction | None]) -> Json:
        high_first = sorted({one for one in totals.values() if one is not None}, reverse=True)
        groups = [[squad for squad in self.squads if totals[squad] == total] for total in high_first]
        for key in self.keys({squad for squad in self.squads if totals[squad] is not None}):
            groups = [part for group in groups for part in parted(group, key)]
        ranks: Json = {str(squad): None for squad in self.squads}
        for before, group in enumerate(groups):
            ranks |= {str(squad): 1 + sum(map(len, groups[:before])) for squad in group}
        placed, straddle = self.holders(groups, totals)
        missing = [gap for squad in self.squads for gap in self.gaps[squad]]
        ties = [group for group in groups if len(group) > 1]
        return {"ranks": ranks, "ties": ties, "placed": placed, "straddle": straddle, "missing": missing}

    def holders(self, groups: list[list[int]], totals: dict[int, Fraction | None]) -> tuple[list[int], list[int]]:
        """Who holds the places, best first, and the first tie for the last ones."""
        least = Fraction(self.plan.get("qualify", 0))
        contests = [(set(self.squads), self.plan["places"])]
        if groups_of_sections := self.plan.get("place_groups"):
            each = zip(self.packet["groups"], groups_of_sections, strict=True)
            contests = [(set(own), group["places"]) for own, group in each]
        held: set[int] = set()
        ties = []
        for own, places in contests:
            left = places
            for group in groups:
                here = [squad for squad in group if squad in own and (totals[squad] or 0) >= least]
                if len(here) <= left:
                    held |= set(here)
                elif left > 0:
                    ties.append(here)
                left -= len(here)
        return [squad for group in groups for squad in group if squad in held], next(iter(ties), [])

    def keys(self, whole: set[int]) -> list[dict[int, tuple[int, Fraction]]]:
        """For each tie-break and run-off, who has it and what it is worth: more is better."""
        found = []
        last = (0, Fraction(0))
        for key in self.plan.get("tie_breaks", []):
            event, *rest = key.split(".")
            if not rest:
                own = {s: self.points[s, event] for s in whole}
                found.append({s: (1, value) for s, value in own.items() if value is not None})
                continue
            where = f"{event}.{rest[0]}"
            [measure] = [
                m for e in self.plan["events"] if e["key"] == event for m in e["measures"] if m["key"] == rest[0]
            ]
            values: dict[int, Fraction | None] = self.values[where]
            if rest[1:]:
                by_squad = self.over(measure, self.panels[where], lambda line: Fraction(line["marks"][rest[1]]))[0]  # noqa: B023
                values = {squad: by_squad[squad] for squad in values}
            sign = -1 if lower_is_better(measure) else 1
            merits = {s: last if value is None else (1, sign * value) for s, value in values.items()}
            found.append({s: last for s in whole if self.away.get((s, event)) is False} | merits)
        for event_ in self.plan["events"]:
            for measure in event_["measures"]:
                made = {s: self.lines(event_, measure, s, True) for s in self.squads}
                sign = -1 if lower_is_better(measure) else 1
                for turn in range(max(map(len, made.values()), default=0)):
                    worth = {s: attempt_value(measure, lines[turn]) for s, lines in made.items() if len(lines) > turn}
                    found.append({s: last if v is None else (1, sign * v) for s, v in worth.items()})
        return found


def parted(group: list[int], merits: dict[int, tuple[int, Fraction]]) -> Sequence[list[int]]:
    if len(group) == 1 or not all(squad in merits for squad in group):
        return [group]
    return [[s for s in group if merits[s] == m] for m in sorted({merits[s] for s in group}, reverse=True)]


def recomputed(packet: Json) -> Json:
    """The results of a packet, in the same shape, with exact numbers as text."""

    def text(value: Any) -> Any:
        if isinstance(value, Fraction):
            return str(value)
        if isinstance(value, dict):
            return {key: text(entry) for key, entry in value.items()}
        return value

    found: Json = text(Recomputed(packet).run())
    return found
