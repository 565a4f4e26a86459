"""Any plan at all, for hypothesis."""

from datetime import date, datetime, time
from decimal import Decimal
from typing import Literal

from hypothesis import strategies as st

from storage.records.day_plan import Break, DayPlan, Lesson
from storage.records.plan import (
    Calendar,
    Check,
    Checklist,
    Count,
    Criterion,
    Event,
    Holidays,
    Item,
    Measure,
    Number,
    Plan,
    Practice,
    Rubric,
    Share,
    Time,
)

TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]) | st.sampled_from("\n\t"), max_size=200)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=200)
LINE = WORDS.map(str.strip).map(lambda text: text[:40].strip()).filter(bool)
AMOUNT = st.decimals(Decimal("0.0001"), Decimal(99999), places=4, allow_nan=False)
TIMES = st.times()
MOMENTS = st.datetimes(datetime.fromisoformat("2026-01-01"), datetime.fromisoformat("2026-12-31"))


@st.composite
def measures(draw: st.DrawFn, key: str) -> Measure:
    name, weight = draw(LINE), draw(AMOUNT)
    scales: list[Literal["best", "rank", "standard"]] = ["best", "rank", "standard"]
    scale = draw(st.sampled_from(scales))
    match draw(st.integers(0, 5)):
        case 0:
            items = tuple(
                Item(key=f"item-{n}", name=draw(LINE), points=draw(AMOUNT)) for n in range(draw(st.integers(1, 5)))
            )
            return Count(key=key, name=name, weight=weight, items=items, maximum=draw(AMOUNT))
        case 1:
            return Time(
                key=key,
                name=name,
                weight=weight,
                scale="between",
                limit=draw(AMOUNT),
                floor=Decimal(3),
                full=Decimal(1),
            )
        case 2:
            criteria = tuple(
                Criterion(key=f"line-{n}", name=draw(LINE), levels=tuple(draw(st.lists(LINE, min_size=3, max_size=6))))
                for n in range(draw(st.integers(1, 8)))
            )
            return Rubric(key=key, name=name, weight=weight, scale=scale, criteria=criteria)
        case 3:
            lines = tuple(Check(key=f"line-{n}", name=draw(LINE)) for n in range(draw(st.integers(1, 20))))
            return Checklist(
                key=key, name=name, weight=weight, lines=lines, keep=draw(st.sampled_from(["best", "sum"]))
            )
        case 4:
            better: list[Literal["higher", "lower"]] = ["higher", "lower"]
            return Number(
                key=key,
                name=name,
                weight=weight,
                scale="rank",
                unit=draw(LINE)[:12].strip() or "kg",
                decimals=draw(st.integers(0, 4)),
                lowest=Decimal(draw(st.integers(-50, 49))),
                highest=Decimal(draw(st.integers(50, 5000))),
                better=draw(st.sampled_from(better)),
            )
        case _:
            return Share(key=key, name=name, weight=weight, scale=scale)


@st.composite
def practices(draw: st.DrawFn, days: int) -> Practice:
    """Turns that do not overlap, on some days of a window."""
    minutes = draw(st.integers(5, 90))
    times = draw(st.lists(st.integers(0, 23), min_size=1, max_size=6, unique=True))
    first = draw(st.integers(1, days))
    return Practice(
        minutes=minutes if len(times) == 1 else min(minutes, 60),
        times=tuple(time(hour, 10) for hour in times),
        turns=draw(st.none() | st.integers(1, 60)),
        from_day=first,
        until_day=draw(st.none() | st.integers(first, days)),
        give_back_hours=draw(st.integers(0, 72)),
        pool_hours=draw(st.integers(0, 168)),
        first_round=draw(st.sampled_from(["open", "draw"])),
        key_source=draw(LINE),
    )


def day_plans(sections: tuple[str, ...]) -> st.SearchStrategy[DayPlan]:
    """Event days without dates of their own, some with lessons and a break."""
    lessons = st.builds(
        Lesson, section=st.sampled_from(sections), begins=st.just(time(9, 0)), ends=st.just(time(9, 45))
    )
    pause = Break(begins=time(10, 0), ends=time(10, 20))
    return st.builds(
        DayPlan,
        lessons=st.lists(lessons, max_size=3).map(tuple),
        breaks=st.sampled_from([(), (pause,)]),
        tables=st.integers(1, 10),
        run_minutes=st.integers(1, 120),
        interviews=st.sampled_from(["lesson", "day"]),
        key_source=LINE,
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    events = tuple(
        Event(
            key=f"event-{e}",
            name=draw(LINE),
            weight=draw(AMOUNT),
            about=draw(TEXT).strip(),
            surprise=surprise,
            hand_in=not surprise and draw(st.booleans()),
            cautions=tuple(draw(st.lists(LINE, max_size=3))),
            measures=tuple(draw(measures(f"measure-{m}")) for m in range(draw(st.integers(1, 3)))),
        )
        for e, surprise in enumerate(draw(st.lists(st.booleans(), min_size=1, max_size=4)))
    )
    calendar = Calendar(
        brief=draw(MOMENTS),
        days=draw(st.integers(1, 60)),
        counting=draw(st.sampled_from(["calendar", "school"])),
        closed=tuple(draw(st.lists(st.dates(date(2026, 1, 1), date(2027, 1, 1)), max_size=4))),
        holidays=draw(st.sampled_from([None, Holidays(country="GB", region="ENG"), Holidays(country="US")])),
        remind_at=draw(TIMES),
        remind_at_on={1: draw(TIMES)},
        last_day_hours=tuple(draw(st.lists(st.integers(1, 23), max_size=3))),
        quiet_from=draw(TIMES),
        quiet_until=draw(TIMES),
    )
    sections = tuple(f"{n} {draw(LINE)[:20]}".strip() for n in range(draw(st.integers(1, 5))))
    return Plan(
        name=draw(LINE),
        zone=draw(st.sampled_from(["America/New_York", "Asia/Kolkata", "Australia/Lord_Howe"])),
        sections=sections,
        places=draw(st.integers(1, 25)),
        brief=draw(TEXT).strip(),
        calendar=calendar,
        events=events,
        practice=draw(st.none() | practices(calendar.days)),
        event_day=draw(st.none() | day_plans(sections)),
        tie_breaks=(events[0].key,),
        announce=draw(st.sampled_from(["winner", "podium", "table"])),
    )
