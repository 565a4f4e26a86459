"""From taps to counts, and the end of a run by the platform's own times."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.delivery.sending_limits import made_at
from bot.rules.event_day.run_pad import after_end, ends_at, last_of, more_than_there_are, none_left, totals
from storage.records.plan_measures import Count, Item
from storage.records.run_pads_and_stopwatches import PadRun, Tap

NOW = datetime(2027, 1, 21, 9, 0, tzinfo=UTC)
MEASURE = Count(
    key="socks",
    name="Socks",
    scale="best",
    seconds=Decimal(150),
    items=(Item(key="sock", name="Sock"), Item(key="spill", name="Spill", points=Decimal(-5))),
)
RUN = PadRun(id=1, squad_id=1, event="run", measure="socks", number=1, opened_at=NOW)
STEPS = st.lists(st.tuples(st.sampled_from(["sock", "spill"]), st.sampled_from([1, -1]), st.booleans()), max_size=40)


def tap(number: int, item: str = "sock", step: int = 1, undone: bool = False, who: int = 7, after: float = 0) -> Tap:
    at = NOW + timedelta(seconds=after)
    return Tap(
        id=number, run_id=1, item=item, step=step, tapped_by=who, tapped_at=at, undone_at=NOW if undone else None
    )


@given(STEPS)
def test_counts_are_the_taps_that_stand_and_never_below_nothing(steps: list[tuple[str, int, bool]]) -> None:
    taps = [tap(number, item, step, undone) for number, (item, step, undone) in enumerate(steps)]
    found = totals(MEASURE, taps)
    for item in ("sock", "spill"):
        standing = [one.step for one in taps if one.item == item and one.undone_at is None]
        assert found[item] >= max(0, sum(standing))
        if all(sum(standing[:end]) >= 0 for end in range(len(standing) + 1)):
            assert found[item] == sum(standing)


def test_taps_of_two_people_add_up_and_each_undoes_their_own() -> None:
    taps = [tap(1, who=7), tap(2, who=8), tap(3, who=7), tap(4, who=7, undone=True)]
    assert totals(MEASURE, taps) == {"sock": 3, "spill": 0}
    assert (last_of(taps, 7), last_of(taps, 8), last_of(taps, 9)) == (taps[2], taps[1], None)


def test_a_run_ends_so_long_after_the_press_that_the_platform_stamped() -> None:
    # The formula as published: (id >> 22) + 1420070400000 milliseconds since 1970 (reference page "Snowflakes").
    press = 1_332_000_000_123_456_789
    milliseconds = (press >> 22) + 1_420_070_400_000
    run = RUN.model_copy(update={"started_at": made_at(press)})
    end = ends_at(MEASURE, run)
    assert end is not None
    assert round(end.timestamp() * 1000) == milliseconds + 150_000


def test_taps_after_the_end_are_told_and_still_count() -> None:
    run = RUN.model_copy(update={"started_at": NOW})
    taps = [tap(1, after=10), tap(2, after=150), tap(3, after=150.001), tap(4, after=151, undone=True)]
    assert after_end(MEASURE, run, taps) == 1
    assert totals(MEASURE, taps)["sock"] == 3


def test_without_a_clock_or_a_length_nothing_ends() -> None:
    assert ends_at(MEASURE, RUN) is None
    assert ends_at(MEASURE.model_copy(update={"seconds": None}), RUN.model_copy(update={"started_at": NOW})) is None
    assert after_end(MEASURE, RUN, [tap(1)]) == 0


def test_none_is_taken_off_where_there_is_none_and_more_than_there_are_is_said() -> None:
    few = Item(key="core", name="sock", points=Decimal(1), most=2)
    assert [none_left("less", total) for total in (0, 1)] == [True, False]
    assert not none_left("more", 0)
    assert [more_than_there_are(few, "more", total) for total in (1, 2)] == [False, True]
    assert not more_than_there_are(few, "less", 3)
    assert not more_than_there_are(few.model_copy(update={"most": None}), "more", 99)
