"""What judges and coaches read fits its message even with the longest names and the most of everything."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.judging.judge_assignment import Obstacle, describe
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.score_sheet import steps
from bot.words.core.pages import fitting
from bot.words.judging import (
    close_judging,
    conflicts_of_interest,
    invitation,
    judge_reminders,
    judges_admin,
    judges_panel,
    my_sheets,
    open_judging,
    panels_admin,
    reopen_sheet,
    score_sheet,
    second_look,
    tryout_of_judge,
    typed_marks,
)
from storage.records.judging import OpenEvent, TieOfInterest
from storage.records.message import Select
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric
from storage.records.scores import Sheet
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


def test_a_coachs_messages_hold_25_judges_and_30_squads() -> None:
    opened = {one.key: OpenEvent(tryout_id=1, event=one.key, opened_at=NOW) for one in EVENTS}
    judges_panel.judges_panel(TRYOUT, JUDGES, MANY, opened)
    close_judging.status(JUDGES, MANY)
    close_judging.sure_to_close(JUDGES, MANY, EVENTS)
    open_judging.told_open(["z" * 100] * 8, JUDGES, SQUADS)
    judges_admin.one(JUDGES[0], MANY, closed=True)
    judges_admin.sure_to_remove(JUDGES[0], MANY)
    reopen_sheet.pick_sheet(JUDGES[0], MINE)
    reopen_sheet.reason_form(MINE[0])
    tied = [TieOfInterest(judge_id=one.id, squad_id=two.id, set_by="judge", at=NOW) for one in JUDGES for two in SQUADS]
    conflicts_of_interest.conflicts_panel(JUDGES, {squad.id: squad for squad in SQUADS}, tied)
    second_look.second_look_panel({squad.name + str(squad.id): ["x" * 45] * 8 for squad in SQUADS})


@pytest.mark.parametrize("page", range(8))
def test_a_panel_of_25_judges_and_30_squads_is_shown_on_several_pages(page: int) -> None:
    seats = [(squad.id, judge.id) for squad in SQUADS for judge in JUDGES]
    found = describe([one.id for one in SQUADS], [one.id for one in JUDGES], seats)
    rubric = EVENTS[0].measures[0]
    assert isinstance(rubric, Rubric)
    panels_admin.table((EVENTS[0], rubric), 25, (SQUADS, JUDGES), found, seats, page)
    panels_admin.squad((EVENTS[0], rubric), SQUADS[0], JUDGES, [1, 2], [3])


@pytest.mark.parametrize("kind", [
    "no-squads", "no-judges", "few-judges", "squad-tied", "fixed-tied", "fixed-many", "judge-tied", "judge-full",
    "squads-short", "judges-short", "few-seats", "apart",
])  # fmt: skip
def test_every_obstacle_is_told_in_one_message_without_a_number_that_is_none(kind: str) -> None:
    names = {"squads": {one.id: one.name for one in SQUADS}, "judges": {one.id: one.name for one in JUDGES}}
    everyone = tuple(names["squads"]), tuple(names["judges"])
    message = panels_admin.stuck(EVENTS[0], Obstacle(kind, *everyone, have=1, need=2), names)  # type: ignore[arg-type]
    assert "Why: " in message.text and "{" not in message.text


def test_a_judges_messages_hold_240_sheets() -> None:
    dates = schedule(PLAN)
    for page in range(10):
        my_sheets.my_sheets(TRYOUT, MINE, dates, page, MINE[0])
    open_judging.sheets_out(MINE, ["z" * 100] * 8, dates.judging_closes)
    judge_reminders.still_open(MINE, dates.judging_closes, late=True)
    invitation.invitation(TRYOUT, dates, JUDGES[:10])
    for one in MINE[:3]:
        score_sheet.sheet(one, typing=True)
        score_sheet.sheet_saved(one, MINE)
        reopen_sheet.sheet_again(one, "r" * 200)
        for number in range(len(steps(one.rubric))):
            score_sheet.sheet_form(one, number, 10**18)
    typed_marks.usage(MINE[0])
    typed_marks.prompt(MINE[2])
    second_look.please_look({squad.name + str(squad.id): ["x" * 45] * 8 for squad in SQUADS}, MINE)


def test_nothing_is_offered_to_be_changed_once_judging_is_closed() -> None:
    sheets = [entry(JUDGES[0], one, EVENTS[0], "submitted") for one in SQUADS[:2]]
    for open_still, prompt in ((True, "Look at a sheet, or change it"), (False, "Look at a sheet")):
        shown = [replace(one, changeable=open_still) for one in sheets]
        rows = my_sheets.my_sheets(TRYOUT, shown, schedule(PLAN, NOW)).rows
        assert [row.prompt for row in rows if isinstance(row, Select)] == [prompt]


def test_a_list_that_is_too_long_says_how_many_more_there_are() -> None:
    assert fitting(["aaaa", "bbbb", "cccc"], 100) == ["aaaa", "bbbb", "cccc"]
    assert fitting(["aaaa", "bbbb", "cccc"], 10) == ["aaaa", "bbbb", "- and 1 more"]
    assert fitting([], 10) == []


def test_a_judge_reads_how_many_sheets_are_new_and_how_many_there_are_in_all() -> None:
    closes = schedule(PLAN).judging_closes
    told = open_judging.sheets_out(MINE, [EVENTS[1].name], closes)
    assert "You have 20 new sheets, 160 in all." in told.text
    buttons = [one for row in told.rows if isinstance(row, tuple) for one in row]
    assert [one.label[-14:-11] for one in buttons[:2]] == ["1zz", "1zz"]
    first = [one for one in MINE if one.event == EVENTS[0]]
    assert "You have 20 sheets." in open_judging.sheets_out(first, [EVENTS[0].name], closes).text


def test_the_next_sheet_is_named_with_squad_and_event_however_long_they_are() -> None:
    (button,) = my_sheets.onward([MINE[2]])
    assert button.label == f"Next: {WIDE[:15]}…, 0{'z' * 12}…" and len(button.label) <= tryout_of_judge.LABEL
