"""Turns at the practice table, as the coach sees them: one is picked and something done, which its squad reads."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from bot.rules.practice.all_turns_admin import Deed, deeds, fewest_first
from bot.rules.practice.practice_table import PracticeTable
from bot.rules.practice.share_and_leftover_turns import share_of_each
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full, full_and_relative
from bot.words.practice.booking import choices, value
from bot.words.practice.first_round_draw import DRAW
from bot.words.practice.lost_closed_or_cancelled_turns import can_book_another
from bot.words.practice.practice_table import state, times_text
from storage.records.message import Button, Message, Row
from storage.records.people import Squad
from storage.records.practice import Turn

PRACTICE = Button(key=key(ActionKey.PRACTICE_PANEL), label="Practice")
DEEDS: Mapping[Deed, tuple[ActionKey, str]] = {
    "book": (ActionKey.PRACTICE_FOR, "Book for a squad"),
    "lose": (ActionKey.PRACTICE_LOSE, "Lost: equipment"),
    "unlose": (ActionKey.PRACTICE_UNLOSE, "It was not lost"),
    "release": (ActionKey.PRACTICE_RELEASE, "Give it back"),
    "close": (ActionKey.PRACTICE_BLOCK, "Close it"),
    "open": (ActionKey.PRACTICE_OPEN, "Open it again"),
}
"""The buttons of what can be done with a turn, in their order."""


def practice_panel(
    zone: ZoneInfo, table: PracticeTable, squads: Sequence[Squad], page: int, draws: bool = False, said: str = ""
) -> Message:
    """All turns to pick from, and how many each squad has; with `draws` the lot can be drawn now."""
    names = {squad.id: squad.name for squad in squads}
    taken = sum(turn.state != "blocked" for turn in table.turns)
    text = (
        f"**Practice at the table**: {times_text(table.practice)}\n"
        f"{count(len(table.slots), 'turn')}, {taken} taken; each squad may book {share_of_each(table)} first.\n"
        f"{_few(table, squads)}"
    )
    if said:
        text = f"{said}\n\n{text}"
    if not table.slots:
        return Message(text=f"{text}\nThe plan leaves no turn on any school day.", rows=((BACK,),))
    turns = choices(zone, table.slots, [_note(table.by_begin.get(begin), names) for begin in table.slots])
    turn = partial(key, ActionKey.PRACTICE_PANEL)
    listed = list_page(turns, page, "Pick a turn", key(ActionKey.PRACTICE_TURN), turn)
    below = (*listed.turns, *((DRAW,) if draws else ()), BACK)
    return whole_message(text, (*listed.select, below), foot=listed.line)


def _few(table: PracticeTable, squads: Sequence[Squad]) -> str:
    """Who has few turns, and who has lost some."""
    lines = [
        f"- {count(number, 'turn')}: {', '.join(escape(squad.name) for squad in have)}"
        for number, have in fewest_first(table, squads)
    ]
    lost = [f"{escape(squad.name)} {len(table.lost(squad.id))}" for squad in squads if table.lost(squad.id)]
    if lost:
        lines.append(f"- lost through equipment: {listing(lost)}")
    return "\n".join(lines)


def _note(turn: Turn | None, names: Mapping[int, str]) -> str:
    """Who has a turn, in a list, where there is no markup."""
    if turn is None or turn.squad_id is None:
        return state(turn, names)
    return names.get(turn.squad_id, "?") + (" (lost through equipment)" if turn.state == "lost" else "")


def turn_page(begin: datetime, turn: Turn | None, names: Mapping[int, str], over: bool, said: str = "") -> Message:
    """One turn and what can be done with it."""
    text = f"**Turn at the table**, {full_and_relative(begin)}\nNow: {state(turn, names)}"
    possible = deeds(turn, over)
    buttons = [_button(one, begin) for one in DEEDS if one in possible]
    rows: list[Row] = [tuple(buttons)] if buttons else []
    return Message(text=f"{text}\n\n{said}" if said else text, rows=(*rows, (PRACTICE, BACK)))


def pick_squad(begin: datetime, squads: Sequence[tuple[Squad, int]], page: int) -> Message:
    """For which squad the coach books a turn; each with the number it has."""
    if not squads:
        return Message(text="There are no squads yet.", rows=((PRACTICE, BACK),))
    choices = [choice(squad.id, squad.name, count(held, "turn")) for squad, held in squads]
    pick, turn = key(ActionKey.PRACTICE_BOOKED_FOR, value(begin)), partial(key, ActionKey.PRACTICE_FOR, value(begin))
    listed = list_page(choices, page, "Pick a squad", pick, turn)
    return Message(
        text=f"For which squad? {full_and_relative(begin)}{listed.line}",
        rows=(*listed.select, (*listed.turns, PRACTICE, BACK)),
    )


def _button(deed: Deed, begin: datetime) -> Button:
    action, label = DEEDS[deed]
    more = (0,) if deed == "book" else ()
    style = "danger" if deed in ("lose", "close") else "plain"
    return Button.model_validate({"key": key(action, value(begin), *more), "label": label, "style": style})


BOOKED = "Booked; the squad's room says so."
"""A turn is booked for a squad."""
GIVEN_BACK = "The turn is free again; the squad's room says so."
"""A turn is given back for a squad."""


@posted(Sign.PRACTICE)
def told_taken_back(begin: datetime, can: datetime | bool) -> Message:
    """Told in the room of a squad whose turn the coach has given back; `can` as in its live message."""
    more, rows = can_book_another(can, "It does not count as one of yours.")
    return Message(text=f"Your coach has given your turn on {full(begin)} back.{more}", rows=rows)
