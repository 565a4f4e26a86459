"""What the class will read is shown line by line before sign-up opens."""

from datetime import datetime

from bot.rules.calendar.calendar import schedule
from bot.words.office import open_sign_up
from bot.words.plan.builtin_plan import builtin_plan

BUILT_IN = builtin_plan(datetime(2027, 1, 11, 15, 30), "America/New_York")  # noqa: DTZ001


def test_confirmations_show_the_message_line_by_line() -> None:
    news = open_sign_up.signup_opens(BUILT_IN, schedule(BUILT_IN), 50)
    sure = open_sign_up.sure_to_open(news, (), "x")
    assert all(f"> {line}" in sure.text for line in news.text.split("\n"))
