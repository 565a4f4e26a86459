"""Any plan at all, for hypothesis."""

from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any, Literal

from hypothesis import strategies as st

from storage.records.day_plan import Break, DayPlan, Lesson
from storage.records.plan import Calendar, Equipment, Event, Holidays, PlaceGroup, Plan, Practice, Squads
from storage.records.plan_measures import Check, Checklist, Count, Criterion, Item, Measure, Number, Rubric, Share, Time

TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]) | st.sampled_from("\n\t"), max_size=200)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=200)
LINE = WORDS.map(str.strip).map(lambda text: text[:40].strip()).filter(bool)
LONG_LINE = LINE.map(lambda text: (f"{text} " * 100)[:100].strip())
"""As long as a line may be."""
LONG_TEXT = TEXT.map(lambda text: (f"{text} " * 900)[:1800].strip())
AMOUNT = st.decimals(Decimal("0.0001"), Decimal(99999), places=4, allow_nan=False)
SIGNED = AMOUNT | AMOUNT.map(lambda amount: -amount)
TIMES = st.times()
MOMENTS = st.datetimes(datetime.fromisoformat("2026-01-01"), datetime.fromisoformat("2026-12-31"))
LARGEST = 6
"""Members of the largest squad that a plan of these may have."""


@st.composite
def wide_measures(draw: st.DrawFn, key: str) -> Measure:
    """What `measures` leaves as it is when nothing is said: attempts, scales of every kind, panels, penalties."""
    measure = draw(measures(key))
    more: dict[str, Any] = {"name": draw(LINE | LONG_LINE)}
    if not isinstance(measure, Rubric | Share):
        more["attempts"] = draw(st.integers(1, 4))
        more["keep"] = draw(st.sampled_from(["best", "sum", *(["mean-of-best-two"] if more["attempts"] > 1 else [])]))
    match measure:
        case Count():
            better = draw(st.sampled_from(["higher", "lower"]))
            points = [Decimal(10), *(draw(SIGNED) for _ in measure.items[1:])]
            items = tuple(
                item.model_copy(update={"points": point, "most": draw(st.none() | st.integers(1, 999))})
                for item, point in zip(measure.items, points, strict=True)
            )
            scales = ["maximum", "rank", "standard", *(["best"] if better == "higher" else [])]
            more |= {"items": items, "better": better, "seconds": draw(st.none() | AMOUNT)}
            more |= {"scale": draw(st.sampled_from(scales)), "over_maximum": draw(st.sampled_from(["cap", "count"]))}
        case Number():
            more |= _scale_of_number(draw, measure)
        case Time():
            more["scale"] = draw(st.sampled_from(["maximum", "best", "between", "rank", "standard"]))
            more |= {"planning": draw(st.none() | AMOUNT), "official": draw(st.sampled_from([None, "press", "hand"]))}
            more["fault_seconds"] = draw(st.just(Decimal(0)) | AMOUNT)
        case Rubric():
            panel = draw(st.sampled_from(["mean", "median", "trimmed", "adjusted"]))
            least = 5 if panel == "trimmed" else 1
            more |= {"panel": panel, "comments": draw(st.sampled_from(["sheet", "criterion"]))}
            more |= {"judges_per_squad": draw(st.none() | st.integers(least, 6)), "scale": draw(_SCALES)}
            more["criteria"] = tuple(
                line.model_copy(update={"weight": draw(AMOUNT), "praise": draw(_MAYBE), "next": draw(_MAYBE)})
                for line in measure.criteria
            )
        case Checklist():
            points = [Decimal(1), *(draw(SIGNED) for _ in measure.lines[1:])]
            lines = (one.model_copy(update={"points": p}) for one, p in zip(measure.lines, points, strict=True))
            more |= {"lines": tuple(lines), "scale": draw(_SCALES)}
        case Share():
            more["scale"] = draw(_SCALES)
    return type(measure).model_validate(measure.model_dump() | more)


_SCALES = st.sampled_from(["maximum", "best", "rank", "standard"])
_MAYBE = st.none() | LINE | LONG_LINE


def _scale_of_number(draw: st.DrawFn, measure: Number) -> dict[str, Any]:
    """A scale that fits which way the number goes and how low it may be."""
    lower, low, high = measure.better == "lower", measure.lowest, measure.highest
    ends = (high, low) if lower else (low, high)
    scales = ["rank", "standard", "between"]
    scales += ["maximum"] if low >= 0 else []
    scales += ["best"] if low > 0 or (low == 0 and not lower) else []
    scale = draw(st.sampled_from(scales))
    return {"scale": scale} | ({"floor": ends[0], "full": ends[1]} if scale == "between" else {})


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


@st.composite
def wide_plans(draw: st.DrawFn) -> Plan:
    """A plan in which also what most plans leave unsaid is said; some are refused, by their dates."""
    plan = draw(plans())
    sizes = sorted((draw(st.integers(1, LARGEST)), draw(st.integers(1, LARGEST))))
    events = tuple(draw(_wide_event(event, sizes[1])) for event in plan.events)
    names = [name for event in events for name in (event.key, *(f"{event.key}.{one.key}" for one in event.measures))]
    brief = plan.calendar.brief
    calendar = plan.calendar.model_copy(
        update={
            "weekend": draw(st.sampled_from([("saturday", "sunday"), ("friday", "saturday"), ("sunday",), ()])),
            "signup_closes": draw(st.none() | st.integers(-72, 12).map(lambda hours: brief + timedelta(hours=hours))),
            "judging_closes": draw(st.none() | st.just(brief + timedelta(days=120))),
        }
    )
    groups = draw(st.just(()) | _place_groups(plan.sections))
    dates = draw(st.just(()) | st.lists(st.integers(1, 12), min_size=1, max_size=4, unique=True).map(tuple))
    day = plan.event_day and plan.event_day.model_copy(
        update={
            "dates": tuple(brief.date() + timedelta(days=days) for days in dates),
            "interview_minutes": draw(st.integers(0, 30)),
            "change_minutes": draw(st.integers(0, 10)),
        }
    )
    return plan.model_copy(
        update={
            "name": draw(LINE | LONG_LINE),
            "brief": draw(TEXT.map(str.strip) | LONG_TEXT),
            "squads": Squads(smallest=sizes[0], largest=sizes[1], board=draw(st.sampled_from(["names", "code-names"]))),
            "calendar": calendar,
            "place_groups": groups,
            "places": sum(group.places for group in groups) or plan.places,
            "qualify": draw(st.none() | st.integers(0, 100).map(Decimal)),
            "events": events,
            "event_day": day,
            "tie_breaks": tuple(draw(st.lists(st.sampled_from(names), max_size=5, unique=True))),
            "protest_days": draw(st.integers(0, 5)),
            "retention_days": draw(st.integers(1, 400)),
        }
    )


@st.composite
def _wide_event(draw: st.DrawFn, event: Event, largest: int) -> Event:
    pieces = st.sampled_from(["present - 1", "present / 2", "present / 3 + 1", "present"])
    equipment = st.builds(Equipment, name=LINE, pieces=pieces)
    return event.model_copy(
        update={
            "name": draw(LINE | LONG_LINE),
            "about": draw(TEXT.map(str.strip) | LONG_TEXT),
            "equipment": draw(st.none() | equipment),
            "least_present": draw(st.none() | st.integers(1, largest)),
            "measures": _told_apart(tuple(draw(wide_measures(one.key)) for one in event.measures)),
        }
    )


def _told_apart(found: tuple[Measure, ...]) -> tuple[Measure, ...]:
    """The same measures, of which no two have one name: nobody could choose between those."""
    names: set[str] = set()
    apart = []
    for place, one in enumerate(found):
        name = f"{place} {one.name}"[:100] if one.name in names else one.name
        names.add(name)
        apart.append(one.model_copy(update={"name": name}))
    return tuple(apart)


@st.composite
def _place_groups(draw: st.DrawFn, sections: tuple[str, ...]) -> tuple[PlaceGroup, ...]:
    """The sections in one or two groups, each with places of its own."""
    cut = draw(st.integers(1, len(sections)))
    parts = [part for part in (sections[:cut], sections[cut:]) if part]
    return tuple(PlaceGroup(sections=part, places=draw(st.integers(1, 3))) for part in parts)
