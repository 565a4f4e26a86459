"""Random packets, recomputed by the second implementation of the page of formulas."""

import ast
import json
import random
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from bot.rules.scoring.packet import packet_text
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings import standings
from bot.words.scoring.packet import formulas_text
from storage.records.plan import PlaceGroup
from storage.records.plan_measures import Check, Checklist, Item, Measure, Number
from storage.records.score_sheets import Sheet
from storage.records.scores import Absence, Attempt, ScoreBook
from tests.rules.books import absence, attempt, count, event, judges, plan, rubric, share, sheet, squads, timed
from tests.rules.scoring import second_implementation, second_values

PACKETS = 500
KEEP = ("best", "sum", "mean-of-best-two")


def some_measure(chance: random.Random, key: str) -> Measure:
    """A measure of any kind, on any scale that suits it."""
    scale = chance.choice(["maximum", "best", "between", "rank", "standard"])
    shared: dict[str, Any] = {"scale": scale, "weight": Decimal(chance.choice(["1", "2.5"]))}
    shared["over_maximum"] = chance.choice(["cap", "count"])
    if scale == "between":
        shared |= {"floor": Decimal(chance.choice([0, 2])), "full": Decimal(chance.choice([9, 14]))}
    tries: dict[str, Any] = {"attempts": chance.randint(1, 3), "keep": chance.choice(KEEP)}
    better: Any = chance.choice(["higher", "lower"]) if scale != "best" else "higher"
    match chance.choice(["count", "number", "checklist", "time", "rubric", "rubric", "share"]):
        case "count":
            items = (
                Item(key="core", name="core", points=Decimal(2)),
                Item(key="slip", name="slip", points=Decimal(-1)),
            )
            return count(key, items=items, maximum=Decimal(8), better=better, **shared, **tries)
        case "number":
            ends: dict[str, Any] = {"unit": "kg", "decimals": 2, "highest": Decimal(9)}
            return Number(key=key, name=key, better=better, **ends, **shared, **tries)
        case "checklist":
            lines = (Check(key="a", name="a", points=Decimal(3)), Check(key="b", name="b", points=Decimal(-1)))
            return Checklist(key=key, name=key, lines=lines, **shared, **tries)
        case "time":
            return timed(key, limit=Decimal(10), fault_seconds=Decimal("0.5"), **shared, **tries)
        case "rubric":
            rule = chance.choice(["mean", "median", "trimmed", "adjusted", "adjusted"])
            return rubric(key, weights=["1", chance.choice(["1", "1.5"])], levels=4, panel=rule, **shared)
    return share(key, **shared)


def some_attempt(chance: random.Random, measure: Measure, squad: int, where: str, **more: Any) -> Attempt:
    """One go, now and then without an end, with values so few that ties come about."""
    match measure.kind:
        case "count":
            items = {"core": chance.randint(0, 5), "slip": chance.randint(0, 2)}
            more |= {"items": items, "deductions": Decimal(chance.choice(["0", "0.5"]))}
        case "number":
            more["amount"] = Decimal(chance.choice(["1", "2.25", "7.5"]))
        case "checklist":
            more["items"] = {"a": chance.randint(0, 1), "b": chance.randint(0, 1)}
        case "time":
            more |= {
                "seconds": chance.choice([None, Decimal(4), Decimal("6.5"), Decimal(11)]),
                "faults": chance.randint(0, 2),
            }
        case "share":
            more |= {"contributing": chance.randint(0, 4), "members": 4}
    return attempt(squad, where, **more)


def some_book(seed: int) -> ScoreBook:
    """A small try-out of anything that a plan can say, with absences, gaps, ties and run-offs."""
    chance = random.Random(seed)
    events = []
    for n in range(1, chance.randint(1, 3) + 1):
        measures = [some_measure(chance, f"m{k}") for k in range(1, chance.randint(1, 3) + 1)]
        events.append(event(f"e{n}", *measures, weight=chance.choice([1, 2, "0.5"])))
    how_many, panel_size = chance.randint(1, 6), chance.randint(1, 6)
    attempts: list[Attempt] = []
    sheets: list[Sheet] = []
    full, seats = chance.random() < 0.7, chance.choice([1.0, 0.6, 0.3])
    keys = [one.key for one in events]
    for one in events:
        for measure in one.measures:
            where = f"{one.key}.{measure.key}"
            keys.append(where)
            if measure.kind == "rubric":
                keys += [f"{where}.{criterion.key}" for criterion in measure.criteria]
            for squad in range(1, how_many + 1):
                if measure.kind == "rubric":
                    for judge in range(1, panel_size + 1):
                        if chance.random() < seats or (full and judge == 1 + squad % panel_size):
                            marks = [chance.randint(1, 4), chance.randint(1, 4)]
                            given = marks if full or chance.random() < 0.9 else None
                            sheets.append(sheet(squad, judge, where, given, id=len(sheets) + 1))
                    continue
                allowed = 1 if measure.kind == "share" else measure.attempts
                for number in range(1, (allowed if full else chance.randint(0, allowed + 1)) + 1):
                    attempts.append(some_attempt(chance, measure, squad, where, number=number, id=len(attempts) + 1))
                if chance.random() < 0.3:
                    more = {"number": 1, "run_off": True, "id": len(attempts) + 1}
                    attempts.append(some_attempt(chance, measure, squad, where, **more))
    away: list[Absence] = [
        absence(squad, one.key, chance.random() < 0.5)
        for squad in range(1, how_many + 1)
        for one in events
        if chance.random() < 0.08
    ]
    breaks = chance.sample(keys, min(len(keys), chance.randint(0, 2)))
    rules = plan(*events, places=chance.randint(1, 3), tie_breaks=breaks)
    entered = squads(how_many)
    panel = judges(*(chance.choice([1, 1, 1, 2, "0.5", 0]) for _ in range(panel_size)))
    if chance.random() < 0.3:
        entered = tuple(one.model_copy(update={"section": chance.choice(["7A", "7B", "7C"])}) for one in entered)
        groups = (PlaceGroup(sections=("7B",), places=1), PlaceGroup(sections=("7A", "7C"), places=1))
        rules = rules.model_copy(update={"sections": ("7A", "7B", "7C"), "place_groups": groups, "places": 2})
    if chance.random() < 0.2:
        rules = rules.model_copy(update={"qualify": Decimal(chance.choice(["5", "25", "62.5"]))})
    return ScoreBook(
        plan=rules,
        squads=entered,
        judges=panel,
        attempts=tuple(attempts),
        sheets=tuple(sheets),
        absences=tuple(away),
    )


@pytest.mark.parametrize("tenth", range(10))
def test_random_packets_are_recomputed_from_the_page_of_formulas_alone(tenth: int) -> None:
    for seed in range(tenth * PACKETS // 10, (tenth + 1) * PACKETS // 10):
        book = some_book(seed)
        packet = json.loads(packet_text(build(book, standings(book))))
        found = second_implementation.recomputed(packet)
        for stage, claimed in packet["results"].items():
            assert found[stage] == claimed, (seed, stage)


def test_the_random_packets_hold_all_that_can_happen() -> None:
    results = [standings(some_book(seed)) for seed in range(PACKETS)]
    assert sum(result.complete for result in results) > PACKETS // 3
    assert sum(bool(result.ties) for result in results) > 20
    assert sum(any(tie.steps for tie in result.ties) for result in results) > 10
    assert sum(result.straddle is not None for result in results) > 10
    assert sum(not result.plain and result.straddle is not None for result in results) > 3
    kinds = {gap.kind for result in results for _, gap in result.gaps}
    assert kinds == {"no_attempt", "too_few_attempts", "no_sheet", "open_sheet", "unconnected", "all_excused"}


def test_the_second_implementation_imports_nothing_of_the_bot() -> None:
    named: set[str] = set()
    for module in (second_implementation, second_values):
        tree = ast.parse(Path(module.__file__ or "").read_text("utf-8"))
        named |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        named |= {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert named - {second_values.__name__} == {"collections.abc", "fractions", "math", "typing", "tomllib"}


def test_the_page_goes_along_with_a_packet() -> None:
    book = some_book(1)
    packet = json.loads(packet_text(build(book, standings(book), formulas_text())))
    assert packet["formulas"].startswith("# How every number of a result is made")
