"""A judge's list offers nothing that cannot be changed, and names the next sheet however long its names are."""

from dataclasses import replace

from bot.rules.calendar.calendar import schedule
from bot.words.judging import my_sheets
from storage.records.message import BUTTON_LABEL, Select
from tests.words.judging.longest_sheets import EVENTS, JUDGES, MINE, NOW, PLAN, SQUADS, TRYOUT, WIDE, entry


def test_nothing_is_offered_to_be_changed_once_judging_is_closed() -> None:
    sheets = [entry(JUDGES[0], one, EVENTS[0], "submitted") for one in SQUADS[:2]]
    for open_still, prompt in ((True, "Look at a sheet, or change it"), (False, "Look at a sheet")):
        shown = [replace(one, changeable=open_still) for one in sheets]
        rows = my_sheets.my_sheets(TRYOUT, shown, schedule(PLAN, NOW)).rows
        assert [row.prompt for row in rows if isinstance(row, Select)] == [prompt]


def test_the_next_sheet_is_named_with_squad_and_event_however_long_they_are() -> None:
    (button,) = my_sheets.onward([MINE[2]])
    assert button.label == f"Next: {WIDE[:15]}…, 0{'z' * 12}…" and len(button.label) <= BUTTON_LABEL
