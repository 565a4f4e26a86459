"""Run sheets on the screen: lists of any length can be picked from."""

from datetime import datetime

from bot.words.event_day import run_sheet_entry as words
from bot.words.plan.builtin_plan import builtin_plan
from storage.records.message import Message, Select


def labels(message: Message) -> list[str]:
    return [button.label for row in message.rows if isinstance(row, tuple) for button in row]


def test_more_measures_than_a_list_holds_stand_on_pages() -> None:
    event = builtin_plan(datetime(2027, 1, 11, 15, 30), "Europe/Berlin").events[0]  # noqa: DTZ001 - local by meaning
    many = [(event.model_copy(update={"key": f"event{number}"}), event.measures[0], 1) for number in range(30)]
    pages = [words.measures(many, page, True) for page in (0, 1)]
    lists = [next(row for row in page.rows if isinstance(row, Select)) for page in pages]
    assert [len(one.choices) for one in lists] == [25, 5]
    assert "Next page 2 of 2" in labels(pages[0]) and "Back to page 1" in labels(pages[1])
    assert "Next page" not in str(labels(words.measures(many[:3], 0, True)))
