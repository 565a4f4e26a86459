"""The defaults of a plan: what each key of it means that the file leaves out.

Dates that are left out are worked out from others (`bot/rules/calendar/plan_default_dates.py`); what is proposed to
whoever makes a plan by answering questions stands in `bot/rules/plan/new_plan_questions.py`.
"""

from datetime import time
from decimal import Decimal
from typing import Final

PLACES = 1
ANNOUNCE: Final = "winner"
PROTEST_DAYS = 2
RETENTION_DAYS = 60

SMALLEST_SQUAD, LARGEST_SQUAD = 3, 5
BOARD: Final = "names"

WINDOW_DAYS = 10
COUNTING: Final = "calendar"
WEEKEND: Final = ("saturday", "sunday")
DEADLINE_ON_CLOSED_DAY: Final = "move"
REMIND_AT = time(16, 0)
LAST_DAY_HOURS = (3, 1)
"""Hours before the deadline at which squads are reminded on the last day."""
QUIET_FROM, QUIET_UNTIL = time(20, 0), time(7, 0)

TURN_MINUTES = 20
FIRST_DAY_WITH_TURNS = 1
GIVE_BACK_HOURS = 2
POOL_HOURS = 20
FIRST_ROUND: Final = "open"
KEY_SOURCE = "five dice, rolled in front of the class"
"""Of the lot for the first practice turns, and of the draw of the event day."""

EVENT_DAY_BEGINS, EVENT_DAY_ENDS = time(8, 0), time(15, 0)
TABLES = 1
RUN_MINUTES, INTERVIEW_MINUTES, CHANGE_MINUTES = 5, 10, 3
INTERVIEWS: Final = "lesson"

WEIGHT = Decimal(1)
"""Of a measure in its event, and of a criterion in its rubric."""
SCALE: Final = "maximum"
OVER_MAXIMUM: Final = "cap"
BETTER: Final = "higher"
KEEP: Final = "best"
ATTEMPTS_AT_COUNT, ATTEMPTS = 2, 1
"""Attempts at a count, and at any other measure."""
ITEM_POINTS, CHECK_POINTS = Decimal(10), Decimal(1)
TYPED_DECIMALS = 0
LOWEST = Decimal(0)
FAULT_SECONDS = Decimal(5)
OFFICIAL: Final = "press"
"""Which of two times of one run counts."""
PANEL: Final = "mean"
COMMENTS: Final = "sheet"
