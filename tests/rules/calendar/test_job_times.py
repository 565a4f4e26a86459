"""What happens in a try-out, from any state to the next."""

from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.job_times import JOB_TYPES, agenda
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.office import digest
from storage.records.plan import Calendar, Plan
from storage.records.tryout import State
from tests.actions.conftest import small_plan

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def kinds(plan: Plan, state: State, brief_at: datetime | None = None) -> list[str]:
    found = schedule(plan, brief_at)
    return [entry.kind for entry in (*agenda(found, state), *digest.agenda(plan, found, state))]


def test_sign_up_closes_before_the_brief_goes_out_at_the_same_instant() -> None:
    found = [kind for kind in kinds(small_plan(), "signup") if kind != "digest"]
    assert found == ["signup-closes", "brief"]


def test_each_state_plans_what_leads_out_of_it() -> None:
    plan = small_plan()
    assert set(kinds(plan, "signup")) == {"signup-closes", "brief", "digest"}
    assert set(kinds(plan, "window")) == {"signup-closes", "reminder", "deadline", "chase", "digest"}
    assert set(kinds(plan, "judging", BRIEF)) == {"chase", "digest"}
    still: tuple[State, ...] = ("drafting", "settled", "announced", "archived")
    assert [kinds(plan, state, BRIEF) for state in still] == [[]] * 4


def test_a_reminder_makes_sense_until_the_next_one_and_the_last_until_the_deadline() -> None:
    plan = small_plan()
    found = [one for one in agenda(schedule(plan, BRIEF), "window") if one.kind == "reminder"]
    assert [one.stale_after for one in found] == [*(one.at for one in found[1:]), schedule(plan, BRIEF).deadline]


def test_keys_name_the_day_so_that_a_day_is_said_once_however_dates_move() -> None:
    plan = small_plan()
    calendar = plan.calendar.model_copy(update={"days": 11, "remind_at": time(17, 0)})
    longer = plan.model_copy(update={"calendar": calendar})
    one, other = (
        {(e.kind, e.key) for e in agenda(schedule(p, BRIEF), "window") if e.kind == "reminder"} for p in (plan, longer)
    )
    daily = {key for _, key in one if key.startswith("daily")}
    assert daily <= {key for _, key in other}
    assert not {key for _, key in one if key.startswith("last-day")} & {key for _, key in other}


@given(
    st.datetimes(datetime(2027, 1, 1), datetime(2028, 12, 31)),  # noqa: DTZ001
    st.sampled_from(["America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Tokyo", "America/Santiago"]),
    st.integers(1, 30),
    st.times(),
)
def test_nothing_is_planned_twice_or_rings_at_night_and_everything_makes_sense_for_a_while(
    brief: datetime, zone: str, days: int, remind: time
) -> None:
    local = brief.replace(second=0, microsecond=0)
    # Every third day has an hour of its own, so that some wait for a morning on which the next one comes, too.
    own = {number: time(21, 0) for number in range(1, days + 1, 3)}
    calendar = Calendar(brief=local, days=days, remind_at=remind, remind_at_on=own)
    plan = small_plan(zone=zone, calendar=calendar)
    found = schedule(plan)
    busy: tuple[State, ...] = ("signup", "window", "judging")
    for state in busy:
        for one in (agenda(found, state), digest.agenda(plan, found, state)):
            assert [entry.at for entry in one] == sorted(entry.at for entry in one)
        entries = (*agenda(found, state), *digest.agenda(plan, found, state))
        assert len({(entry.kind, entry.key) for entry in entries}) == len(entries)
        assert all(entry.stale_after is None or entry.stale_after > entry.at for entry in entries)
        assert {entry.kind for entry in entries} <= set(JOB_TYPES)
        for entry in entries:
            if entry.kind in ("digest", "reminder", "chase"):
                assert not is_quiet(entry.at.astimezone(ZoneInfo(zone)).time(), calendar)
