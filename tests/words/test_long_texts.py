"""What is too long for one message is never cut in silence: it is all there, or it says how much more there is."""

from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.judging.compute_panel import Obstacle
from bot.words.calendar import release_brief, signup_closes
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.text_as_file import GOES_ON, WHOLE_TEXT, whole_message
from bot.words.core.times import full
from bot.words.event_day import surprise_for_all
from bot.words.judging import (
    calibration_trial,
    conflicts_of_interest,
    open_judging,
    panels,
    second_look,
    typed_marks,
)
from bot.words.office import helpers, open_sign_up, people_panel, stop_or_put_away
from bot.words.plan import change_plan, edit_plan, form_mistakes
from bot.words.plan.public_plan import public_plan
from bot.words.questions import coach_answers
from bot.words.results import announce, listed_changes
from bot.words.squads import roster_board
from storage.records.judging import TieOfInterest, Trial
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message
from storage.records.people import Officer, Squad, Student
from storage.records.plan_measures import Rubric
from storage.records.questions import Clarification, Question
from storage.records.tryout import Tryout
from tests.actions.conftest import small_plan
from tests.words.judging.longest_sheets import EVENTS, JUDGES, MINE, SQUADS, WIDE

AT = datetime(2027, 1, 12, 20, 0, tzinfo=UTC)
PLAN = small_plan(name="N" * 100)
SECRET_EVENT = EVENTS[0].model_copy(update={"cautions": tuple(f"Caution {n} {'c' * 180}" for n in range(12))})


def said(message: Message) -> str:
    """All that a person can read of a message: its text, or the file that goes with it where that is too long."""
    assert len(message.text) <= MESSAGE_LENGTH
    files = [one for one in message.files if one.name == WHOLE_TEXT]
    assert (GOES_ON in message.text) == bool(files)
    return files[0].data.decode() if files else message.text.replace("\\", "")


@given(st.lists(st.text(alphabet="ab *_", max_size=900), max_size=6), st.text(alphabet="f", max_size=200))
def test_a_text_is_there_whole_whatever_its_length_and_its_foot_stands_below(lines: list[str], foot: str) -> None:
    text = "**Begin**\n" + "\n".join(lines)
    message = whole_message(text, foot=foot)
    assert said(message) == text + foot and message.text.endswith(foot)
    assert message.files == () or message.text.startswith("**Begin**")


def test_in_the_file_nothing_is_escaped_and_moments_can_be_read() -> None:
    row = (Button(key=key(ActionKey.OFFICE_AGAIN), label="Refresh"),)
    picture = Attachment(name="picture.png", data=b"1")
    message = whole_message(rf"\*Moles\* at {full(AT)}" + "\n" + "word " * 500, [row], [picture])
    assert message.rows == (row,) and [one.name for one in message.files] == ["picture.png", WHOLE_TEXT]
    assert message.files[1].data.decode().startswith("*Moles* at 2027-01-12 20:00 UTC\n")
    assert message.text.removesuffix(GOES_ON).endswith("word "), "cut between words"


def test_before_a_long_message_is_said_every_line_of_it_can_be_read() -> None:
    news = Message(text="\n".join(f"line {number} {'n' * 180}" for number in range(10)))
    room = Message(text="\n".join(f"room {number} {'r' * 180}" for number in range(10)))
    tryout = Tryout(id=1, server_id=7, state="signup", plan=PLAN, created_at=AT)
    for sure in (
        open_sign_up.sure_to_open(news, (), "x"),
        release_brief.sure_to_release(news, room, "", "x"),
        stop_or_put_away.sure_to_archive(tryout, news, ()),
        change_plan.sure_to_change(news, "stamp"),
    ):
        assert all(f"> {line}" in said(sure) for line in news.text.split("\n"))
    assert all(
        f"> {line}" in said(release_brief.sure_to_release(news, room, "", "x")) for line in room.text.split("\n")
    )
    longest = announce.preview(Message(text="a" * 1999 + "z"), "digest", "table")
    assert said(longest).endswith("a" * 1999 + "z")


def test_whatever_stands_in_the_way_is_told_to_the_last_line() -> None:
    lines = [f"wrong {number} {'w' * 150}" for number in range(30)]
    assert all(f"- {line}" in said(form_mistakes.mistakes(lines, [])) for line in lines)
    assert all(f"- {line}" in said(announce.not_yet(lines)) for line in lines)
    assert said(edit_plan.edit_plan_panel(PLAN, "window", "\n".join(lines))).endswith(lines[-1])
    assert said(signup_closes.signup_closed(99, [f"{n}{WIDE}" for n in range(60)], 3)).count(WIDE) == 60
    officers = [Officer(id=n, tryout_id=1, platform_id=n, name=f"{n:02}{'_' * 98}", role="coach") for n in range(1, 41)]
    assert all(one.name in said(helpers.helpers(officers, said="Done.")) for one in officers)
    assert all(one.name in said(people_panel.people_panel(officers, 3, 4, [])) for one in officers)


def test_a_question_and_the_answer_that_settles_it_are_shown_whole() -> None:
    question = Question(id=1, tryout_id=1, squad_id=1, student_id=1, text="*" * 300, asked_at=AT)
    one = Clarification(
        tryout_id=1, number=1, version=1, question="?" * 300, answer="#" * 600, change="", published_at=AT
    )
    room = Message(text="r" * 1500)
    shown = said(coach_answers.sure_to_merge(question, one, SQUADS[0], room))
    assert "*" * 300 in shown and "?" * 300 in shown and "#" * 600 in shown and "r" * 1500 in shown


def test_what_a_judge_reads_is_whole() -> None:
    levels = [f"level {number} {'*' * 180}" for number in range(1, 7)]
    rubric = MINE[0].rubric
    criteria = tuple(one.model_copy(update={"levels": tuple(levels)}) for one in rubric.criteria)
    long = [
        one.__class__(one.sheet, one.squad, one.event, rubric.model_copy(update={"criteria": criteria}), True)
        for one in MINE[:2]
    ]
    assert all(level in said(typed_marks.prompt(long[0])) for level in levels)
    assert all(level in said(typed_marks.usage(long[0])) for level in levels)
    gaps = {f"{squad.number}{WIDE}": [f"{line}{'x' * 43}" for line in range(8)] for squad in SQUADS}
    for message in (second_look.second_look_panel(gaps), second_look.please_look(gaps, MINE)):
        assert all(name in said(message) for name in gaps)
    please = said(second_look.please_look(gaps, MINE))
    assert "Please look at your sheets once more" in please
    assert "The list below has 25 of your 240 sheets there; **My sheets** has all." in please
    trial = Trial(id=1, tryout_id=1, event="e0", measure="r0", sample="An entry. " * 300, opened_at=AT)
    assert trial.sample in said(calibration_trial.sample(EVENTS[0], trial, None, False))
    ties = [TieOfInterest(judge_id=one.id, squad_id=two.id, set_by="judge", at=AT) for one in JUDGES for two in SQUADS]
    shown = said(conflicts_of_interest.conflicts_panel(JUDGES, {one.id: one for one in SQUADS}, ties))
    assert shown.count("(own word)") == len(ties)
    assert said(open_judging.told_open([f"{n}{'z' * 99}" for n in range(40)], JUDGES, SQUADS)).count("z" * 99) == 40
    names = {"squads": {one.id: f"{one.id}{WIDE}" for one in SQUADS}, "judges": {one.id: one.name for one in JUDGES}}
    apart = Obstacle("apart", tuple(names["squads"]), tuple(names["judges"]), have=1, need=2)
    first = EVENTS[0].measures[0]
    assert isinstance(first, Rubric)
    for message in (
        panels.stuck(EVENTS[0], apart, names),
        open_judging.no_sheets(EVENTS[0], first, apart, names),
    ):
        assert all(name in said(message) for name in names["squads"].values())


def test_every_caution_is_read_before_the_surprise_starts() -> None:
    assert "1 squad room gets the task at the same moment, and 1 judge gets the" in said(
        surprise_for_all.surprise_sure(SECRET_EVENT, 1, 1)
    )
    shown = said(surprise_for_all.surprise_sure(SECRET_EVENT, 30, 25))
    assert all(one in shown for one in SECRET_EVENT.cautions) and "risk assessment" in shown


def test_a_long_list_of_changes_says_how_many_more_there_are_and_keeps_the_reason() -> None:
    changes = [f"change {number} {'x' * 300}" for number in range(12)]
    found = change_plan.changed(PLAN, schedule(PLAN), changes, True, "w" * 200, public_plan(PLAN))
    shown = found.text.count("- change")
    assert f"- and {12 - shown} more: the attached plan has them all" in found.text
    assert f"Reason: {'w' * 200}" in found.text and "The deadline is now" in found.text and len(found.files) == 1
    told = [listed_changes.Change(AT, (one,), "r") for one in changes]
    lines = listed_changes.change_lines(told, 900)
    assert len(lines) <= 900 and f"- and {12 - lines.count('- change')} more, for which there is no room here" in lines


def test_the_board_has_every_name_however_large_the_squads_are() -> None:
    plan = small_plan()
    section = plan.sections[0]
    alone = [
        Student(id=n, tryout_id=1, platform_id=n, name=f"{n:03}_{'*' * 36}", section=section) for n in range(1, 121)
    ]
    rows = [
        (Squad(id=n, tryout_id=1, number=n, name=f"Squad {n}", section=section, captain_id=None, join_code=f"C{n}",
               created_at=AT), alone[20 * n : 20 * n + 20])
        for n in range(6)
    ]  # fmt: skip
    found = roster_board.boards(plan, rows)
    shown = "\n".join(one.text for one in found)
    assert all(len(one.text) <= MESSAGE_LENGTH for one in found)
    for one in alone:
        assert rf"{one.id:03}\_" + r"\*" * 36 in shown, "no name is cut in two"
