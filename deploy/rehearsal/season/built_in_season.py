"""The built-in season: where and when it takes place, and scene by scene what happens, mishaps on purpose."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from deploy.rehearsal.cast import (
    brief_and_build_days,
    calibration_trial,
    change_plan,
    class_list,
    conflicts_of_interest,
    corrected_result,
    draft_plan,
    end_of_tryout,
    event_day,
    feedback,
    hand_in,
    helpers,
    invitation_to_judge,
    locked_out,
    panels,
    paper_sheets,
    paper_squads,
    place_offers,
    practice,
    preview_and_announcement,
    protests,
    questions,
    run_pad,
    run_sheet_entry,
    score_sheets_and_close,
    score_table,
    second_look_and_reopening,
    sign_up,
    squads_admin,
    stopwatch,
    students_admin,
    surprise,
    try_out_setup,
    wishes_and_proposals,
)
from deploy.rehearsal.cast.curious import Curious
from deploy.rehearsal.cast.people import SCOREKEEPER, SECOND_SCOREKEEPER, Cast
from deploy.rehearsal.cast.press_sequence import pay
from deploy.rehearsal.cast.stage import Stage, awaited
from deploy.rehearsal.wire.rendering import Shown

ZONE = "America/New_York"
SECTIONS = ["7 Ash", "7 Birch", "7 Cedar", "8 Elm", "8 Fir"]
SMALLEST, LARGEST = 3, 5
"""Members of a squad."""
BRIEF = datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning

JUDGES = (
    score_sheets_and_close.not_before,
    invitation_to_judge.no_time,
    panels.by_hand,
    conflicts_of_interest.ties,
    calibration_trial.a_trial,
)
"""What is done about judges in the week of sign-up."""
Progress = Callable[[str], None]
Brought = tuple[bytes, Shown, paper_squads.PaperSquads]
"""The plan file, the sign-up message as somebody's phone still shows it later, and the squads without accounts."""


async def _to_the_brief(
    stage: Stage, cast: Cast, progress: Progress, brief: datetime, zone: str, sections: list[str]
) -> Brought:
    """Play up to the brief."""
    await try_out_setup.begin(stage, None, brief, zone, sections)
    await draft_plan.plan_the_day(stage, sections)
    await pay(stage, cast, draft_plan.every_form, helpers.coach_and_typist)
    await helpers.scorekeepers(stage, SCOREKEEPER, SECOND_SCOREKEEPER)
    await try_out_setup.open_sign_up(stage)
    progress("Sign-up")
    kept = await awaited(stage, lambda: sign_up.panel(stage.phone(cast.late)))
    await invitation_to_judge.ask_judges(stage, cast)
    await sign_up.play(stage, cast)
    await pay(
        stage,
        cast,
        change_plan.a_closed_day,
        brief_and_build_days.not_yet,
        end_of_tryout.not_stopped,
        sign_up.a_stay,
        *wishes_and_proposals.ALL,
        students_admin.an_entered_student,
        *class_list.ALL,
        *JUDGES,
    )
    await students_admin.place_lonely(stage, cast.last_lonely)
    paper = paper_squads.PaperSquads(stage, cast)
    await paper.found()
    await pay(stage, cast, squads_admin.founded_squads, students_admin.leaves_for_good, students_admin.erased)
    plan = await draft_plan.read_plan(stage)
    await stage.look_back()
    return plan, kept, paper


async def scenes(
    stage: Stage, cast: Cast, progress: Progress, brief: datetime, zone: str, sections: list[str]
) -> tuple[bytes, list[dict[str, Any]]]:
    """Play scene after scene; returns the plan file and the standings as the coach got them."""
    plan, kept, paper = await _to_the_brief(stage, cast, progress, brief, zone, sections)
    curious = Curious(stage, cast)
    await curious.coach()
    progress("The brief and the ten days")
    await brief_and_build_days.brief(stage, cast)
    await sign_up.too_late(stage, cast, kept)
    await questions.play(stage, cast)
    await curious.student()
    await pay(
        stage,
        cast,
        change_plan.second_thoughts,
        students_admin.found_by_letters,
        hand_in.more_time,
        practice.turns_of_coach,
        questions.set_aside_and_corrected,
        hand_in.dictated_part,
        brief_and_build_days.rules_as_a_file,
        locked_out.held_up,
        locked_out.came_back,
    )
    turns, parts = practice.Practice(stage, cast), hand_in.HandIn(stage, cast)
    day = event_day.EventDay(stage)
    await brief_and_build_days.days(stage, cast, turns.day, parts.day, paper.day, day.day)
    turns.remember()
    await curious.scorekeeper()
    progress("The event days")
    await pay(stage, cast, event_day.times_that_move)
    await _event_days(stage, cast, day)
    progress("Judging")
    await hand_in.judges_read(stage, cast)
    await curious.judge()
    await pay(stage, cast, paper_sheets.typed_in, conflicts_of_interest.step_back)
    await score_sheets_and_close.play(stage, cast, leave=5)
    await pay(stage, cast, paper_sheets.corrected, second_look_and_reopening.second_look)
    await preview_and_announcement.preview(stage)
    await curious.judge_panel()
    await stage.wait(hours=26)
    await score_sheets_and_close.mark_all(stage, cast, cast.forgetful)
    await score_sheets_and_close.close(stage)
    await pay(stage, cast, second_look_and_reopening.one_sheet, second_look_and_reopening.all_of_it)
    progress("The result")
    await preview_and_announcement.look_closer(stage)
    await pay(stage, cast, preview_and_announcement.not_yet)
    await preview_and_announcement.announce(stage)
    await pay(stage, cast, corrected_result.put_right, protests.rejected)
    standings = preview_and_announcement.read_standings(stage, await preview_and_announcement.preview(stage))
    await pay(stage, cast, end_of_tryout.records, end_of_tryout.team)
    progress("The place and the feedback")
    await stage.wait(hours=18)
    await pay(stage, cast, place_offers.three_places_free_again)
    await place_offers.offer(stage, cast)
    await paper.answer()
    await pay(stage, cast, feedback.read_and_changed)
    await feedback.feedback(stage)
    await pay(stage, cast, helpers.typist_leaves)
    return plan, standings


async def _event_days(stage: Stage, cast: Cast, day: event_day.EventDay) -> None:
    """The counted runs at two tables, the surprise by waves, then what else is measured, and what is missing."""
    await day.print_kit()
    await day.comes()
    counted = await run_pad.RunPads(stage, cast, day.times).play()
    await surprise.by_waves(stage)
    await surprise.for_all(stage)
    await pay(stage, cast, score_table.all_at_once, stopwatch.timed, run_sheet_entry.typed_in, corrected_result.slip)
    await score_table.play(stage, cast, counted)
    await pay(stage, cast, score_table.undone)
    await day.what_is_missing()
