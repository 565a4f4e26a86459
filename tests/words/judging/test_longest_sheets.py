"""What judges and coaches read fits its message even with the longest names and the most of everything."""

from bot.rules.calendar.calendar import schedule
from bot.rules.judging.score_sheet import steps
from bot.words.judging import (
    close_judging,
    conflicts_of_interest,
    invitation,
    judge_reminders,
    judges_admin,
    judges_overview,
    my_sheets,
    open_judging,
    reopen_after_close,
    score_sheet,
    second_look,
    typed_marks,
)
from storage.records.judging import OpenEvent, TieOfInterest
from tests.words.judging.longest_sheets import EVENTS, JUDGES, MANY, MINE, NOW, PLAN, SQUADS, TRYOUT


def test_a_coachs_messages_hold_25_judges_and_30_squads() -> None:
    opened = {one.key: OpenEvent(tryout_id=1, event=one.key, opened_at=NOW) for one in EVENTS}
    judges_overview.judges_overview(TRYOUT, JUDGES, MANY, opened)
    judges_overview.who_owes_sheets(JUDGES, MANY)
    close_judging.sure_to_close(JUDGES, MANY, EVENTS)
    open_judging.told_open(["z" * 100] * 8, JUDGES, SQUADS)
    judges_admin.one(JUDGES[0], MANY, closed=True)
    judges_admin.sure_to_remove(JUDGES[0], MANY)
    reopen_after_close.pick_sheet(JUDGES[0], MINE)
    reopen_after_close.reason_form(MINE[0])
    tied = [TieOfInterest(judge_id=one.id, squad_id=two.id, set_by="judge", at=NOW) for one in JUDGES for two in SQUADS]
    conflicts_of_interest.conflicts_panel(JUDGES, {squad.id: squad for squad in SQUADS}, tied)
    second_look.second_look_panel({squad.name + str(squad.id): ["x" * 45] * 8 for squad in SQUADS})


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
        reopen_after_close.sheet_again(one, "r" * 200)
        for number in range(len(steps(one.rubric))):
            score_sheet.sheet_form(one, number, 10**18)
    typed_marks.usage(MINE[0])
    typed_marks.prompt(MINE[2])
    second_look.please_look({squad.name + str(squad.id): ["x" * 45] * 8 for squad in SQUADS}, MINE)
