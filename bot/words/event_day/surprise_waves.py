"""A surprise for one section or squad at a time: who has it, who gets it now, and who could overhear it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial

from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day import surprise_waves as rules
from bot.words.core.buttons import BACK, TABLE
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import clock
from bot.words.event_day.safety import RISK_ASSESSMENT, SCHOOL
from storage.records.message import Button, Message, Row, Select
from storage.records.people import Squad
from storage.records.plan import Event, Plan

REFUSALS = {
    DayReason.WAVE_NOBODY: "It has started for all of these already. Pick squads for which it has not.",
}


def pick(plan: Plan, event: Event, squads: Sequence[Squad], started: Mapping[int, datetime], page: int) -> Message:
    """For whom shall it start?"""
    lines = [f"**{escape(event.name)}, one wave at a time.** For everybody else it stays sealed."]
    if known := [squad for squad in squads if squad.id in started]:
        has = [f"{squad.number} {escape(squad.name)} ({clock(started[squad.id])})" for squad in known]
        lines.append(f"It has started for: {listing(has)}.")
    waiting = rules.waiting(squads, started)
    rows: list[Row] = []
    if sections := rules.sections_waiting(plan, waiting):
        choices = tuple(
            choice(
                f"section-{place}", f"{section}: {count(sum(squad.section == section for squad in waiting), 'squad')}"
            )
            for place, section in sections[:PAGE]
        )
        rows.append(Select(key=key(DayKey.WAVE_PICK, event.key, "section"), prompt="A whole section", choices=choices))
    single = [choice(f"squad-{squad.id}", f"{squad.number} {squad.name} ({squad.section})") for squad in waiting]
    turn = partial(key, DayKey.WAVE_ASK, event.key)
    listed = list_page(single, page, "One squad", key(DayKey.WAVE_PICK, event.key, "squad"), turn)
    return whole_message("\n".join(lines), (*rows, *listed.rows, (BACK,)), foot=listed.line)


def sure(event: Event, choice: str, wave: Sequence[Squad], hearing: Sequence[Squad], last: bool) -> Message:
    """The safety lines of this wave, and a warning where somebody could overhear the task."""
    names = listing([f"{squad.number} {escape(squad.name)}" for squad in wave])
    lines = [
        f"**Start {escape(event.name)} for {names}?** Their rooms get the task. Judges get their sheets, and "
        "scorekeepers see its name and its safety lines from now on.",
    ]
    if hearing:
        others = listing([f"{squad.number} {escape(squad.name)}" for squad in hearing])
        lines.append(f"**Careful: {others} may sit in the same room and do not know it yet.** Keep them apart.")
    if last:
        lines.append("These are the last: after them the news say that it has started.")
    lines += [f"- {escape(line)}" for line in event.cautions]
    if event.cautions:
        lines.append(f"- {RISK_ASSESSMENT}")
    lines.append(SCHOOL)
    label = "All checked: start it for them" if event.cautions else "Start it for them"
    start = Button(key=key(DayKey.WAVE_START, event.key, choice), label=label, style="good")
    back = Button(key=key(DayKey.WAVE_ASK, event.key), label="Back")
    return whole_message("\n".join(lines), ((start, back),))


def started(event: Event, wave: Sequence[Squad], left: int) -> Message:
    """It has started for them."""
    rest = f"{count(left, 'squad still does', 'squads still do')} not know it." if left else "Everybody has it now."
    more = (Button(key=key(DayKey.WAVE_ASK, event.key), label="The next wave"),) if left else ()
    return Message(
        text=f"**{escape(event.name)}** has started for {count(len(wave), 'squad')}. {rest}",
        rows=((TABLE, *more, BACK),),
    )
