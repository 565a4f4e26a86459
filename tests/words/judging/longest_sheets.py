"""Judges, squads and score sheets with the longest names and the most of everything, for texts that must fit."""

from datetime import UTC, datetime
from decimal import Decimal

from bot.rules.judging.my_sheets import Entry
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric
from storage.records.score_sheets import Sheet
from storage.records.tryout import Tryout
from tests.actions.conftest import small_plan
from tests.words.invented import squad

NOW = datetime(2027, 1, 4, tzinfo=UTC)
WIDE = "_" * 39
LONG = "What is seen here is told at such length that it takes a hundred characters, which is the most there"


def event(number: int) -> Event:
    criteria = tuple(
        Criterion(key=f"c{line}", name=f"{line} {'x' * 43}"[:45], levels=(LONG[:100],) * 6) for line in range(8)
    )
    rubric = Rubric(key=f"r{number}", name="y" * 100, criteria=criteria, comments="criterion")
    return Event(key=f"e{number}", name=f"{number}{'z' * 99}", weight=Decimal(1), measures=(rubric, rubric))


EVENTS = tuple(event(number) for number in range(8))
PLAN = small_plan(name="n" * 100)
TRYOUT = Tryout(id=1, server_id=7, state="judging", plan=PLAN, created_at=NOW)
SQUADS = tuple(squad(number, f"{WIDE}{number % 10}", "s" * 30) for number in range(1, 31))
JUDGES = tuple(
    Judge(id=number, tryout_id=1, number=number, platform_id=10**18 + number, name="*" * 100) for number in range(1, 26)
)


def entry(judge: Judge, squad: Squad, about: Event, state: str) -> Entry:
    rubric = about.measures[0]
    assert isinstance(rubric, Rubric)
    whole = {"c0": 1} if state == "started" else {f"c{line}": 6 for line in range(8)} if state == "submitted" else {}
    sheet = Sheet.model_validate(
        {
            "id": judge.id * 1000 + squad.id, "judge_id": judge.id, "squad_id": squad.id, "event": about.key,
            "measure": rubric.key, "state": state, "marks": whole, "version": len(whole),
            "comments": {f"c{line}": "*" * 1000 for line in range(8)}, "updated_at": NOW if whole else None,
        }
    )  # fmt: skip
    return Entry(sheet, squad, about, rubric, changeable=True)


STATES = ("open", "started", "submitted")
MANY = [entry(judge, squad, EVENTS[0], STATES[squad.id % 3]) for judge in JUDGES for squad in SQUADS]
MINE = [entry(JUDGES[0], squad, about, STATES[squad.id % 3]) for about in EVENTS for squad in SQUADS]
