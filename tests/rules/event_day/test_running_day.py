"""The day as it runs: changes keep everybody in one place, and tell of nobody who does not move."""

from dataclasses import replace
from datetime import timedelta
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.move_day import moved_later
from bot.rules.event_day.moved_times import moved_squads
from bot.rules.event_day.no_show import to_the_end
from bot.rules.event_day.running_day import as_slot
from bot.rules.event_day.swap_times import swapped
from bot.rules.event_day.timetable import clashes
from tests.rules.event_day.days import BASE, after, minutes, running


@given(st.integers(0, 10_000))
@settings(max_examples=20, deadline=None)
def test_whatever_is_changed_nobody_gets_into_two_places(seed: int) -> None:
    random = Random(seed)
    now = running(seed % 5)
    for _ in range(6):
        one, other = random.choice(now.slots), random.choice(now.slots)
        try:
            if random.random() < 0.4 and one.kind == "run":
                moved = to_the_end(now, one)
            elif random.random() < 0.7:
                moved = swapped(now, one, other)
            else:
                moved = moved_later(now, minutes(random.randint(1, 30)))
        except Refusal:
            continue
        later = after(now, moved)
        assert clashes([as_slot(slot) for slot in later.slots]) == []
        assert moved_squads(now.slots, later.slots) <= {slot.squad_id for slot in moved}
        runs = [slot.id for queue in later.queues for slot in queue.slots]
        assert sorted(runs) == sorted(slot.id for slot in now.slots if slot.kind == "run")
        now = later


def test_a_run_is_over_when_so_many_attempts_are_on_record_in_whatever_order_they_were_planned() -> None:
    found = running()
    squad = found.slots[0].squad_id
    mine = [slot for slot in found.slots if slot.kind == "run" and slot.squad_id == squad]
    changed = after(found, swapped(found, mine[0], mine[1]))
    one = replace(changed, made={(squad, "sock-run"): 1})
    first, second = sorted(
        (slot for slot in one.slots if slot.kind == "run" and slot.squad_id == squad), key=lambda s: s.begins_at
    )
    assert (one.is_over(first), one.is_over(second)) == (True, False)


def test_a_queue_is_that_of_the_next_day_with_something_to_come() -> None:
    found = running()
    tomorrow = tuple(
        slot.model_copy(update={"id": slot.id + 100, "begins_at": slot.begins_at + timedelta(days=1)})
        for slot in found.slots
    )
    both = replace(found, slots=(*found.slots, *tomorrow))
    assert {slot.begins_at.date() for queue in both.queues for slot in queue.slots} == {BASE.date()}
    done = {(squad, "sock-run"): 2 for squad in found.sections}
    assert {slot.begins_at.day for queue in replace(both, made=done).queues for slot in queue.slots} == {BASE.day + 1}
