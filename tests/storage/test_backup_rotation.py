"""Which backups are kept: one a day for a week, one a week for four weeks."""

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from storage.backup_rotation import kept

NOW = datetime(2027, 1, 31, 8, 30, tzinfo=UTC)
MOMENTS = st.sets(
    st.datetimes(datetime(2026, 11, 1), datetime(2027, 2, 20)).map(lambda at: at.replace(tzinfo=UTC, microsecond=0)),  # noqa: DTZ001
    max_size=60,
)


def week(at: datetime) -> tuple[int, int]:
    return at.isocalendar()[:2]


def test_after_a_term_of_nights_a_week_of_days_and_four_weeks_are_there() -> None:
    nights = [NOW - timedelta(days=days) for days in range(90)]
    found = sorted(kept(nights, NOW))
    # 31 January 2027 is a Sunday: its week is the last of the four, and its days are the seven days.
    assert [f"{at:%m-%d}" for at in found] == [
        "01-10", "01-17", "01-24", "01-25", "01-26", "01-27", "01-28", "01-29", "01-30", "01-31",
    ]  # fmt: skip


@given(MOMENTS)
def test_the_newest_is_always_kept(made: set[datetime]) -> None:
    past = {at for at in made if at <= NOW} | {NOW}
    assert max(past) in kept(past, NOW)


@given(MOMENTS)
def test_nothing_old_and_never_more_than_eleven_are_kept(made: set[datetime]) -> None:
    past = {at for at in made if at <= NOW}
    stays = kept(past, NOW)
    assert stays <= past
    assert len(stays) <= 7 + 4
    assert all(NOW - at < timedelta(weeks=4) for at in stays)


@given(MOMENTS)
def test_every_day_of_the_last_seven_and_every_week_of_the_last_four_keeps_its_newest(made: set[datetime]) -> None:
    past = {at for at in made if at <= NOW}
    stays = kept(past, NOW)
    for at in past:
        if (NOW.date() - at.date()).days < 7:
            assert max(other for other in past if other.date() == at.date()) in stays
        if any(week(at) == week(NOW - timedelta(weeks=back)) for back in range(4)):
            assert max(other for other in past if week(other) == week(at)) in stays


@given(MOMENTS)
def test_it_does_not_matter_how_often_one_cleans_up(made: set[datetime]) -> None:
    """What is wanted later is never deleted earlier."""
    past = sorted({at for at in made if at <= NOW} | {NOW})
    present: set[datetime] = set()
    for at in past:
        present = kept(present | {at}, at)
    assert present == kept(past, NOW)
    assert kept(present, NOW) == present


@given(MOMENTS)
def test_what_seems_to_come_from_the_future_is_kept(made: set[datetime]) -> None:
    """A small computer may wake up in 1970; that must not cost the coach a single backup."""
    assert kept(made, datetime(1970, 1, 2, tzinfo=UTC)) == made
