"""Reminders speak of one and of many, with the buttons for what a press can do."""

from datetime import datetime

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.squad_debts import Debt
from bot.words.calendar import reminders
from bot.words.plan.builtin_plan import builtin_plan
from storage.records.people import Student
from tests.words.invented import squad

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001


def student(number: int, name: str, account: int | None) -> Student:
    """A student with or without an account."""
    return Student(id=number, tryout_id=1, platform_id=account, name=name, section="7-A", squad_id=1)


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


def test_buttons_stand_in_their_own_order_as_far_as_a_press_can_do_it() -> None:
    owed = (Debt("hand-in", 1, "Bunting"), Debt("slot", 1), Debt("members", 2), Debt("brief", 1))

    def labels(debts: tuple[Debt, ...]) -> list[str]:
        days = reminders.Left(9, last_hours=False)
        said = reminders.for_squad(schedule(BUILT_IN), squad(1, "Moles"), debts, False, days, late=False)
        return [one.label for row in said.rows if isinstance(row, tuple) for one in row]

    assert labels(owed) == ["Open the brief", "Add my part", "Book a turn"]
    assert labels(owed[2:3]) == []
