"""What a squad still owes, as its reminder says it: a line for each thing, and the buttons in their order."""

from collections.abc import Sequence

from bot.rules.calendar.squad_debts import Debt, Kind
from bot.words.calendar.brief import OPEN
from bot.words.core.mentions import called
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.hand_in.member_parts import ADD
from bot.words.practice.booking import BOOK
from storage.records.message import Button
from storage.records.people import Squad

BUTTONS: dict[Kind, Button] = {"brief": OPEN, "hand-in": ADD, "slot": BOOK}
"""In this order the buttons stand with which to do it, as far as it can be done with a press."""


def debt_buttons(debts: Sequence[Debt]) -> tuple[Button, ...]:
    """What can be done with a press, the first of them made to stand out."""
    kinds = {debt.kind for debt in debts}
    wanted = [button for kind, button in BUTTONS.items() if kind in kinds]
    return (*wanted[:1], *(button.model_copy(update={"style": "plain"}) for button in wanted[1:]))


def debt_line(squad: Squad, debt: Debt, may_change: bool, rings: bool) -> str:
    """One thing that a squad owes; `may_change`: students still join by themselves; `rings`: the names are rung."""
    match debt.kind:
        case "members" if may_change:
            more = count(debt.number, "more member")
            return f"You need {more}: friends join with the code **{squad.join_code}**."
        case "members":
            return f"Your squad needs {count(debt.number, 'more member')}: please talk to your coach."
        case "brief":
            return f"{called(debt.who, rings)}: please read the brief, to the last page."
        case "slot":
            return f"You can still book {count(debt.number, 'practice turn')} at the table."
        case "hand-in":
            return f"{called(debt.who, rings)}: please add your part to **{escape(debt.piece)}**."
