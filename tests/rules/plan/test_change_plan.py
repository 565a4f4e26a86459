"""What differs between two plans, told without giving a surprise away, and what may still change."""

from datetime import UTC, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.core.refusal import Refusal
from bot.rules.plan import change_plan
from bot.rules.plan.change_plan import Change, Present, changes, check_change, moves_dates
from bot.words.plan.change_plan import sentence
from storage.records.day_plan import DayPlan
from storage.records.plan import Equipment, Event, PlaceGroup, Plan, Practice
from storage.records.plan_measures import Count, Rubric
from storage.records.tryout import State
from tests.actions.conftest import small_plan

ASKED = datetime(2027, 1, 15, 12, 0, tzinfo=UTC)

PLAN = small_plan()
BRIEF = schedule(PLAN).brief
NOW = datetime(2027, 1, 5, tzinfo=UTC)


def with_event(number: int, **updates: Any) -> Plan:
    events = list(PLAN.events)
    events[number] = events[number].model_copy(update=updates)
    return PLAN.model_copy(update={"events": tuple(events)})


def without_last_level() -> Plan:
    rubric = PLAN.events[1].measures[0]
    assert isinstance(rubric, Rubric)
    criterion = rubric.criteria[0].model_copy(update={"levels": rubric.criteria[0].levels[:3]})
    fewer = rubric.model_copy(update={"criteria": (criterion, *rubric.criteria[1:])})
    return with_event(1, measures=(fewer, *PLAN.events[1].measures[1:]))


def calendar(**updates: Any) -> Plan:
    return PLAN.model_copy(update={"calendar": PLAN.calendar.model_copy(update=updates)})


def refused(new: Plan, state: State, now: datetime = NOW, **present: Any) -> str:
    brief_at = BRIEF if state in ("window", "judging") else None
    try:
        check_change(
            PLAN, new, schedule(PLAN, brief_at), schedule(new, brief_at), Present(state=state, now=now, **present)
        )
    except Refusal as refusal:
        return refusal.reason
    return ""


def test_equal_plans_have_no_changes() -> None:
    assert changes(PLAN, small_plan()) == ()


def test_every_field_of_a_plan_is_seen_when_it_changes() -> None:
    other: dict[str, Any] = {
        "name": "Other",
        "zone": "Europe/Berlin",
        "sections": ("9",),
        "places": 2,
        "place_groups": (PlaceGroup(sections=("7-A", "7-B")),),
        "qualify": Decimal(50),
        "brief": "Other",
        "squads": PLAN.squads.model_copy(update={"largest": 6}),
        "calendar": PLAN.calendar.model_copy(update={"days": 9}),
        "events": PLAN.events[:2],
        "practice": Practice(times=(time(12, 10),)),
        "event_day": DayPlan(),
        "tie_breaks": (),
        "announce": "table",
        "protest_days": 3,
        "retention_days": 90,
    }
    assert set(other) == set(Plan.model_fields)
    for field, value in other.items():
        found = changes(PLAN, PLAN.model_copy(update={field: value}))
        assert len(found) == 1, field
        assert "{" not in sentence(found[0])
    squads = PLAN.squads.model_copy(update={"expected": 9})
    (expected,) = changes(PLAN, PLAN.model_copy(update={"squads": squads}))
    assert sentence(expected) == "how many squads are expected"


def test_what_attempts_refer_to_stays_after_the_brief() -> None:
    count = PLAN.events[0].measures[0]
    assert isinstance(count, Count)
    for items in (count.items[:0], (count.items[0].model_copy(update={"key": "other"}),)):
        changed = with_event(0, measures=(count.model_copy(update={"items": items}),))
        assert refused(changed, "window") == "structure_fixed"
    dearer = count.items[0].model_copy(update={"points": Decimal(20), "most": 9})
    assert refused(with_event(0, measures=(count.model_copy(update={"items": (dearer,)}),)), "window") == ""


@pytest.mark.parametrize("field", sorted(set(Event.model_fields) - {"key"}))
def test_every_field_of_an_event_is_seen_and_a_surprise_stays_secret(field: str) -> None:
    other: dict[str, Any] = {
        "name": "Secret name",
        "weight": Decimal(31),
        "about": "Secret text",
        "surprise": False,
        "hand_in": True,
        "cautions": ("Secret caution",),
        "equipment": Equipment(name="Secret pieces", pieces="present - 1"),
        "least_present": 2,
        "measures": PLAN.events[2].measures[:1],
    }
    found = changes(PLAN, with_event(2, **{field: other[field]}))
    assert [change.kind for change in found] == ["weight" if field == "weight" else "rules"]
    said = sentence(found[0])
    assert "surprise" in said and "chain" not in said.lower() and "ecret" not in said


def test_only_dates_and_zone_are_told_before_the_brief() -> None:
    assert moves_dates(changes(PLAN, calendar(days=9)))
    assert moves_dates((Change("zone"),))
    assert not moves_dates(changes(PLAN, calendar(last_day_hours=(2,))))


@pytest.mark.parametrize("state", ["settled", "announced", "archived"])
def test_once_judging_is_closed_nothing_changes(state: State) -> None:
    assert refused(with_event(0, weight=Decimal(41)), state) == "plan_fixed"


@pytest.mark.parametrize("state", ["window", "judging"])
def test_after_the_brief_what_has_been_measured_keeps_its_place(state: State) -> None:
    assert refused(with_event(0, key="other"), state) == "structure_fixed"
    assert refused(without_last_level(), state) == "structure_fixed"
    assert refused(with_event(2, surprise=False), state) == "structure_fixed"
    assert refused(with_event(1, hand_in=True), state) == "structure_fixed"
    assert refused(with_event(0, weight=Decimal(41), name="Core run"), state) == ""


def test_the_deadline_moves_only_while_the_window_is_open_and_not_into_the_past() -> None:
    assert refused(calendar(days=11), "window") == ""
    assert refused(calendar(days=11), "judging") == "deadline_fixed"
    assert refused(calendar(days=1), "window", now=datetime(2027, 1, 14, tzinfo=UTC)) == "new_deadline_past"


def test_dates_before_the_brief_stay_ahead_of_us() -> None:
    past = calendar(brief=datetime(2027, 1, 4, 15, 30))  # noqa: DTZ001
    assert refused(past, "signup") == "new_brief_past"
    closed = calendar(signup_closes=datetime(2027, 1, 4, 15, 30))  # noqa: DTZ001
    assert refused(closed, "signup") == "new_signup_past"


def test_what_students_have_done_must_still_fit() -> None:
    assert refused(PLAN.model_copy(update={"sections": ("7-B",)}), "signup", sections=frozenset({"7-A"})) == (
        "section_in_use"
    )
    smaller = PLAN.model_copy(update={"squads": PLAN.squads.model_copy(update={"largest": 4})})
    assert refused(smaller, "signup", largest=5) == "squad_too_large"
    assert refused(smaller, "signup", largest=4) == ""


def test_after_judging_only_places_change_and_only_where_nothing_else_can_settle_a_tie() -> None:
    more, other = (PLAN.model_copy(update=update) for update in ({"places": 2}, {"places": 2, "qualify": Decimal(50)}))
    assert refused(more, "settled", tied=True) == ""
    assert refused(other, "settled", tied=True) == refused(more, "settled") == "plan_fixed"
    assert refused(more, "announced") == refused(more, "archived") == "plan_fixed"


def test_while_sign_up_is_open_only_other_dates_are_asked_for_once_more() -> None:
    dates, name = (change_plan.Change("dates"),), (change_plan.Change("name"),)
    assert change_plan.takes_effect_at_once("drafting", dates) and change_plan.takes_effect_at_once("signup", name)
    assert not change_plan.takes_effect_at_once("signup", dates) and not change_plan.takes_effect_at_once(
        "window", name
    )


def test_once_the_brief_is_out_a_change_has_a_reason_and_how_scores_count_two_coaches_or_ten_minutes() -> None:
    change_plan.check_reason(None, "")
    change_plan.check_reason(ASKED, "A clearer name")
    with pytest.raises(Refusal):
        change_plan.check_reason(ASKED, "")
    change_plan.check_agreed(ASKED, by_another=True, now=ASKED)
    change_plan.check_agreed(ASKED, by_another=False, now=ASKED + timedelta(minutes=10))
    with pytest.raises(Refusal):
        change_plan.check_agreed(ASKED, by_another=False, now=ASKED + timedelta(minutes=9))
    plan = small_plan()
    assert change_plan.counts_otherwise(plan, plan.model_copy(update={"places": plan.places + 1}))
    assert not change_plan.counts_otherwise(plan, plan.model_copy(update={"name": "Another"}))
