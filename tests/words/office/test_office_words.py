"""The words of office, brief and plan: they fit, whatever a plan holds, and keep what is secret."""

from datetime import UTC, datetime

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.squad_debts import Debt
from bot.rules.plan.plan_problems import PlanProblem
from bot.rules.plan.public_plan import public_plan
from bot.words.calendar import brief, reminders
from bot.words.core.action_keys import ActionKey
from bot.words.office import digest, open_sign_up
from bot.words.plan import begin_tryout, change_plan, edit_plan, form_mistakes
from bot.words.plan.builtin_plan import builtin_plan
from storage.records.message import MESSAGE_LENGTH
from storage.records.people import Student
from storage.records.plan import Plan
from tests.actions.conftest import small_plan
from tests.words.invented import squad

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001
LONGEST = small_plan(
    name="N" * 100,
    brief="B" * 1800,
    sections=tuple(f"{number:02} {'S' * 27}" for number in range(25)),
)
NOW = datetime(2027, 1, 5, tzinfo=UTC)


def whole_brief(plan: Plan) -> str:
    """All pages of the brief."""
    return "\n".join(brief.brief_opened(plan, schedule(plan), page).text for page in range(12))


def student(number: int, name: str, account: int | None) -> Student:
    """A student with or without an account."""
    return Student(id=number, tryout_id=1, platform_id=account, name=name, section="7-A", squad_id=1)


@pytest.mark.parametrize("plan", [BUILT_IN, LONGEST], ids=["built-in", "longest"])
def test_brief_and_plan_fit_their_pages(plan: Plan) -> None:
    for page in range(12):
        assert len(brief.brief_opened(plan, schedule(plan), page).text) <= MESSAGE_LENGTH
        assert len(edit_plan.shown(plan, schedule(plan), page).text) <= MESSAGE_LENGTH
    assert len(edit_plan.edit_plan_panel(plan, "window", "Done.").text) <= MESSAGE_LENGTH
    for form in (
        edit_plan.dates_form(plan, "signup"),
        edit_plan.dates_form(plan, "window"),
        edit_plan.basics_form(plan, "window"),
        edit_plan.weights_form(plan, "window"),
        edit_plan.words_form(plan, "window"),
    ):
        assert len(form.fields) <= 5


def test_the_brief_has_everything_a_squad_needs_but_the_surprise() -> None:
    found = whole_brief(BUILT_IN)
    for part in ("Sock run", "Bunting", "40 %", "30 %", "Ten socks", "One idea", "Robot off"):
        assert part in found
    for secret in ("Paper chain", "chain", "scissors", "glue stick", "Teamwork"):
        assert secret not in found
    assert "A surprise** (30 % of the total)" in found


def test_the_coach_sees_the_surprise_and_that_it_is_one() -> None:
    found = "\n".join(edit_plan.shown(BUILT_IN, schedule(BUILT_IN), page).text for page in range(12))
    assert "Paper chain** (30 % of the total; a surprise: students see none of this yet)" in found
    assert "glue sticks" in found


def test_confirmations_show_the_message_line_by_line() -> None:
    news = open_sign_up.signup_opens(BUILT_IN, schedule(BUILT_IN), 50)
    sure = open_sign_up.sure_to_open(news, (), "x")
    assert all(f"> {line}" in sure.text for line in news.text.split("\n"))


def test_the_longest_change_is_cut_to_fit() -> None:
    said = change_plan.changed(LONGEST, schedule(LONGEST), ["x" * 300] * 12, True, "why", public_plan(BUILT_IN))
    assert len(said.text) <= MESSAGE_LENGTH


def test_what_was_typed_comes_back_as_far_as_it_fits_a_button() -> None:
    typed = ["2027-01-11", "15:30", "Here", "7-A, " * 40]
    said = form_mistakes.mistakes(["wrong"], typed, ActionKey.PLAN_BEGIN)
    again = said.rows[0]
    assert isinstance(again, tuple) and again[0].key == "plan.begin:2027-01-11:15.30:Here"
    assert said.text.endswith("You wrote:\n> " + ("7-A, " * 40).strip()), "and the rest below"
    assert (
        "You wrote"
        not in form_mistakes.mistakes(["wrong"], [*typed[:3], "7-A, 7-B, 7-C, 7-D"], ActionKey.PLAN_BEGIN).text
    )


def test_a_short_list_of_mistakes_needs_no_file() -> None:
    few = begin_tryout.bad_file([PlanProblem(("zone",), "missing")])
    assert few.files == () and "zone" in few.text
    many = begin_tryout.bad_file([PlanProblem(("zone",), "missing")] * 60)
    assert len(many.files) == 1 and len(many.text) <= MESSAGE_LENGTH


def test_reminders_speak_of_one_and_of_many() -> None:
    ada, ben = student(1, "Ada", 11), student(2, "Ben_", None)
    brief, part = Debt("brief", 1, who=(ada,)), Debt("hand-in", 2, "Bunting", (ada, ben))
    debts = (Debt("members", 2), brief, Debt("slot", 1), part)
    days, hours = reminders.Left(9, last_hours=False), reminders.Left(0, last_hours=True, rings=True)
    early = reminders.for_squad(schedule(BUILT_IN), squad(1, "Moles"), debts, False, days, late=False)
    for line in ("2 more members", "Ada: please read", "1 practice turn at", "Ada and Ben\\_: please add your part"):
        assert line in early.text
    assert [(one.label, one.style) for row in early.rows if isinstance(row, tuple) for one in row] == [
        ("Open the brief", "main"), ("Add my part", "plain"), ("Book a turn", "plain"),
    ]  # fmt: skip
    assert early.text.startswith("⏰ **9 school days left**, until <t:") and early.ping == ()
    late = reminders.for_squad(schedule(BUILT_IN), squad(1, "Moles"), debts, False, hours, late=False)
    assert "<@11>: please read" in late.text and "<@11> and Ben\\_: please add" in late.text and late.ping == (11,)
    assert [digest.short(debt) for debt in (Debt("members", 1), Debt("slot", 2), Debt("hand-in", 1, "Bunting"))] == [
        "needs 1 more",
        "2 practice turns not booked",
        "1 part of Bunting missing",
    ]


def test_a_long_digest_is_cut_and_says_so() -> None:
    squads = [squad(number, f"Squad {number} {'x' * 30}") for number in range(1, 61)]
    found = digest.lines([(one, (Debt("brief", 3),)) for one in squads], 4, 0, [], [])
    said = digest.digest(found)
    assert said is not None and len(said.text) <= MESSAGE_LENGTH and said.text.endswith("- and 57 more: /office")
    assert len(said.text.split("\n")) == 6
    assert digest.digest(found, ["\n".join(found)]) is None, "nothing has changed since yesterday"
