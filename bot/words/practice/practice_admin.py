"""Turns at the practice table, as the coach sees them: pick one, then what can be done with it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.rules.core.reasons import Reason
from bot.rules.practice.turns import PracticeTable
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import PAGE, choice
from bot.words.core.keys import key, split
from bot.words.core.pages import page_line, turning, whole_message, within
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.times import full_and_relative
from bot.words.practice.booking import choices, state, times_text, value
from bot.words.practice.first_round_draw import DRAW
from storage.records.message import Button, Message, Row, Select
from storage.records.people import Squad
from storage.records.practice import Turn

REFUSALS = {
    Reason.TURN_NOT_HELD: "No squad has that turn now. Open the list again: /office, button **Practice**.",
    Reason.TURN_NOT_BLOCKED: "That turn is not closed now. Open the list again: /office, button **Practice**.",
}
PRACTICE = Button(key=key(ActionKey.PRACTICE_PANEL), label="Practice")


def practice_panel(
    zone: ZoneInfo, table: PracticeTable, squads: Sequence[Squad], page: int, draws: bool = False, said: str = ""
) -> Message:
    """All turns to pick from, and how many each squad has; with `draws` the lot can be drawn now."""
    names = {squad.id: squad.name for squad in squads}
    taken = sum(turn.state != "blocked" for turn in table.turns)
    text = (
        f"**Practice at the table**: {times_text(table.practice)}\n"
        f"{count(len(table.slots), 'turn')}, {taken} taken; each squad may book {table.share} first.\n"
        f"{_few(table, squads)}"
    )
    if said:
        text = f"{said}\n\n{text}"
    if not table.slots:
        return Message(text=f"{text}\nThe plan leaves no turn on any school day.", rows=((BACK,),))
    of = -(-len(table.slots) // PAGE)
    page = within(page, of)
    shown = table.slots[page * PAGE :][:PAGE]
    notes = [_note(table.by_begin.get(begin), names) for begin in shown]
    rows = (
        Select(key=key(ActionKey.PRACTICE_TURN), prompt="Pick a turn", choices=choices(zone, shown, notes)),
        (*turning(ActionKey.PRACTICE_PANEL, page, of), *((DRAW,) if draws else ()), BACK),
    )
    return whole_message(text, rows, foot=page_line(page, of))


def _few(table: PracticeTable, squads: Sequence[Squad]) -> str:
    """Who has few turns, and who has lost some."""
    numbers: dict[int, list[str]] = {}
    for squad in squads:
        numbers.setdefault(len(table.held(squad.id)), []).append(escape(squad.name))
    lines = [f"- {count(number, 'turn')}: {', '.join(numbers[number])}" for number in sorted(numbers)]
    lost = [f"{escape(squad.name)} {len(table.lost(squad.id))}" for squad in squads if table.lost(squad.id)]
    if lost:
        lines.append(f"- lost through equipment: {listing(lost)}")
    return "\n".join(lines)


def _note(turn: Turn | None, names: Mapping[int, str]) -> str:
    """Who has a turn, in a list, where there is no markup."""
    if turn is None or turn.squad_id is None:
        return state(turn, names)
    return names.get(turn.squad_id, "?") + (" (lost through equipment)" if turn.state == "lost" else "")


def turn_card(begin: datetime, turn: Turn | None, names: Mapping[int, str], over: bool, said: str = "") -> Message:
    """One turn and what can be done with it."""
    text = f"**Turn at the table**, {full_and_relative(begin)}\nNow: {state(turn, names)}"
    buttons: list[Button] = []
    if turn is None and not over:
        buttons += [
            _button(ActionKey.PRACTICE_FOR, begin, "Book for a squad", 0),
            _button(ActionKey.PRACTICE_BLOCK, begin, "Close it"),
        ]
    elif turn is not None and turn.state == "held":
        buttons.append(_button(ActionKey.PRACTICE_LOSE, begin, "Lost: equipment"))
        if not over:
            buttons.append(_button(ActionKey.PRACTICE_RELEASE, begin, "Give it back"))
            buttons.append(_button(ActionKey.PRACTICE_BLOCK, begin, "Close it"))
    elif turn is not None and turn.state == "lost":
        buttons.append(_button(ActionKey.PRACTICE_UNLOSE, begin, "It was not lost"))
    elif turn is not None and not over:
        buttons.append(_button(ActionKey.PRACTICE_OPEN, begin, "Open it again"))
    rows: list[Row] = [tuple(buttons)] if buttons else []
    return Message(text=f"{text}\n\n{said}" if said else text, rows=(*rows, (PRACTICE, BACK)))


def pick_squad(begin: datetime, squads: Sequence[tuple[Squad, int]], page: int) -> Message:
    """For which squad the coach books a turn; each with the number it has."""
    if not squads:
        return Message(text="There are no squads yet.", rows=((PRACTICE, BACK),))
    of = -(-len(squads) // PAGE)
    page = within(page, of)
    choices = tuple(choice(squad.id, squad.name, count(held, "turn")) for squad, held in squads[page * PAGE :][:PAGE])
    pages = tuple(
        button.model_copy(update={"key": key(ActionKey.PRACTICE_FOR, value(begin), *split(button.key)[1])})
        for button in turning(ActionKey.PRACTICE_FOR, page, of)
    )
    return Message(
        text=f"For which squad? {full_and_relative(begin)}" + page_line(page, of),
        rows=(
            Select(key=key(ActionKey.PRACTICE_BOOKED_FOR, value(begin)), prompt="Pick a squad", choices=choices),
            (*pages, PRACTICE, BACK),
        ),
    )


def _button(action: ActionKey, begin: datetime, label: str, *more: object) -> Button:
    style = "danger" if action in (ActionKey.PRACTICE_LOSE, ActionKey.PRACTICE_BLOCK) else "plain"
    return Button.model_validate({"key": key(action, value(begin), *more), "label": label, "style": style})


SAID = {
    "lost": "Noted as lost through equipment. The squad is told and may book another turn.",
    "unlost": "The turn counts again, and the squad is told.",
    "released": "The turn is free again, and the squad is told.",
    "blocked": "The turn is closed. A squad that had it is told and may book another one.",
    "opened": "The turn is free again.",
    "booked": "Booked, and the squad is told.",
}
