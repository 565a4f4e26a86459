"""Who takes the seat of a judge who knows someone in a squad."""

from decimal import Decimal

from bot.rules.judging.stand_in_judge import stand_in
from storage.records.judging import Seat
from storage.records.people import Judge

JUDGES = [
    Judge(id=n, tryout_id=1, number=n, platform_id=900 + n, name=f"Judge {n}", weight=Decimal(1)) for n in range(1, 5)
]


def seats(*pairs: tuple[int, int]) -> list[Seat]:
    return [Seat(judge_id=one, squad_id=squad, event="poster", measure="look") for one, squad in pairs]


def taken(found: list[Seat], tied: set[tuple[int, int]], judges: list[Judge]) -> int | None:
    one = stand_in(1, found, judges, tied)
    return None if one is None else one.id


def test_the_judge_with_the_fewest_squads_steps_in_and_never_one_who_sits_there_or_is_tied() -> None:
    found = seats((1, 1), (2, 2), (2, 3), (3, 2))
    assert taken(found, set(), JUDGES) == 4
    assert taken(found, {(1, 4)}, JUDGES) == 3
    assert taken(found, {(1, 4), (1, 3)}, JUDGES) == 2
    assert taken(found, {(1, 2), (1, 3), (1, 4)}, JUDGES) is None


def test_of_judges_with_as_many_squads_the_one_steps_in_who_met_the_others_least() -> None:
    assert taken(seats((1, 1), (1, 2), (2, 2), (3, 3)), {(1, 4)}, JUDGES) == 3


def test_nobody_whose_marks_count_for_nothing_steps_in() -> None:
    light = [one.model_copy(update={"weight": Decimal(0)}) if one.id == 4 else one for one in JUDGES]
    assert taken(seats((1, 1)), set(), light) == 2
