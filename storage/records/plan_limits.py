"""The limits of a plan: the least and the most of each number in it, and how many letters and entries there may be."""

from decimal import Decimal
from typing import NamedTuple


class Limits(NamedTuple):
    """Both ends are included."""

    least: int
    most: int


KEY_LETTERS, LINE_LETTERS, TEXT_LETTERS, SECTION_LETTERS = 24, 100, 1800, 30
UNIT_LETTERS, CRITERION_LETTERS = 12, 45
LARGEST_AMOUNT = Decimal(100_000)
"""Of points, weights, seconds and measured values; below 0 as far."""
DIGITS, DECIMALS = 12, 4
"""Of such a number, in all and after the point."""

YEARS = Limits(2000, 2199)
"""Of every date in a plan, so that days can be counted on and back from it."""
SECTIONS = Limits(1, 25)
PLACES = Limits(1, 25)
MOST_PLACE_GROUPS = 25
LARGEST_MINIMUM, MINIMUM_DIGITS = 1000, 8
"""The total that a plan may ask for before a squad wins a place, and its digits."""
EVENTS = Limits(1, 8)
MOST_TIE_BREAKS = 40
PROTEST_DAYS = Limits(0, 14)
RETENTION_DAYS = Limits(1, 400)

SQUAD_MEMBERS = Limits(1, 25)
EXPECTED_SQUADS = Limits(1, 1000)

WINDOW_DAYS = Limits(1, 60)
"""Days of the window, and the number of a day in it."""
WEEKEND_DAYS, MOST_CLOSED_DAYS = 7, 400
LAST_DAY_HOURS = Limits(1, 23)

TURN_MINUTES = Limits(5, 240)
TURN_TIMES = Limits(1, 12)
"""Times of day at which a turn at the practice table begins."""
TURNS_OF_A_SQUAD = Limits(1, 60)
GIVE_BACK_HOURS = Limits(0, 72)
POOL_HOURS = Limits(0, 168)

MEASURES = Limits(1, 6)
MOST_CAUTIONS = 20
LEAST_PRESENT = Limits(1, 25)
ATTEMPTS = Limits(1, 10)
ITEMS = Limits(1, 5)
ITEMS_THERE_ARE = Limits(1, 999)
TYPED_DECIMALS = Limits(0, 4)
CHECKLIST_LINES = Limits(1, 20)
CRITERIA = Limits(1, 8)
LEVELS = Limits(3, 6)
JUDGES_PER_SQUAD = Limits(1, 25)

MOST_EVENT_DAYS, MOST_LESSONS, MOST_BREAKS = 5, 60, 10
TABLES = Limits(1, 10)
RUN_MINUTES = Limits(1, 120)
INTERVIEW_MINUTES = Limits(0, 120)
CHANGE_MINUTES = Limits(0, 60)
